// SPDX-License-Identifier: MIT
// The rigs that can be built from the kit, ranked, and what each asks of the crew.
import { edgeFirst, verdictAt, type Brief, type OverEdge, type Plan, type Verdict } from './answers';
import type { App, View } from './app';
import { add, button, figure, h, replace } from './dom';
import { choiceName, getLanguage, said, t } from './msg';
import { fallback } from './scene';
import { advantage, asWeight, force, forceBand, ideal, inUnits, length, margin, minutesBand } from './units';

const MARK: { readonly [V in Verdict]: string } = { yes: '✓', likely: '◕', perhaps: '◑', no: '✕' };

/// Word, mark, frame and colour say the same, so that no one of them is needed.
export function badge(verdict: Verdict): HTMLElement {
  return h('span', { class: `badge ${verdict}` }, h('span', { 'aria-hidden': 'true' }, `${MARK[verdict]} `), t(`can_${verdict}`));
}

export function fact(name: string, value: string | Node): HTMLElement {
  return h('div', { class: 'fact' }, h('dt', {}, name), h('dd', {}, value));
}

/// The pull over the edge as it is, and cleared.
function overEdge({ hand_force_N, cleared_N }: OverEdge): string {
  const likely = hand_force_N.likely ?? null;
  const as = likely === null ? t('jams') : hand_force_N.high === null ? t('mayJam', force(likely)) : forceBand(hand_force_N);
  return t('edgeCleared', as, force(cleared_N.likely ?? null));
}

const ORDER: Verdict[] = ['yes', 'likely', 'perhaps', 'no'];

const wordsOf = (brief: Brief | null): Verdict[] => brief?.list.plans.map((_p, i) => verdictAt(brief, i)) ?? [];

/// The best word among all rigs, and the first rig that has it.
export function summary(brief: Brief | null): { verdict: Verdict; best: number } {
  const words = wordsOf(brief);
  const verdict = ORDER.find((word) => words.includes(word)) ?? 'no';
  return { verdict, best: words.indexOf(verdict) };
}

/// "Rigs: 1 likely, 16 perhaps": no more is promised than each of them holds.
export function summaryText(brief: Brief | null): string {
  const words = wordsOf(brief).filter((word) => word !== 'no');
  const counts = ORDER.map((word) => [words.filter((w) => w === word).length, t(`can_${word}`)] as const).filter(([count]) => count > 0);
  const less = brief?.list.less_likely.length ?? 0;
  return words.length === 0 ? (less > 0 ? t('rigsNoneLikely', less) : t('rigsNone')) : t('rigsCounts', counts.map(([count, word]) => `${count} ${word.toLocaleLowerCase(getLanguage())}`).join(', '));
}

/// What the core says would help, where nothing works: what costs nothing apart from what has to be fetched.
export function missing(app: App): HTMLElement | null {
  const list = app.plans?.list;
  if (list === undefined || list.missing === '') {
    return null;
  }
  const part = (free: boolean): (HTMLElement | null)[] => {
    const some = list.changes.filter((change) => change.free === free);
    return some.length === 0 ? [] : [h('h4', {}, t(free ? 'helpFree' : 'helpGear')), h('ul', {}, ...some.map((change) => h('li', {}, inUnits(change.text))))];
  };
  return h('div', { class: 'callout missing' }, h('h3', {}, t('missing')),
    ...(list.changes.length === 0 ? [h('p', {}, inUnits(list.missing))] : [...part(true), ...part(false), h('p', { class: 'help' }, t('helpEach'))]));
}

/// Why there is no rig to show: not asked yet, or none of this kit works.
export function noRig(app: App): 'noRig' | 'noRigWorks' | 'noRigLikely' {
  return app.all().length > app.list().length ? 'noRigLikely' : (app.plans?.list.missing ?? '') === '' ? 'noRig' : 'noRigWorks';
}

export class RigList {
  constructor(private readonly app: App, private readonly root: HTMLElement, private readonly go: (view: View) => void) {}

  render(): void {
    const { app } = this;
    const plans = app.plans;
    if (plans === null) {
      replace(this.root, h('p', { class: 'hint' }, app.diag === null ? t('searching') : t('refused', app.diag.message)));
      return;
    }
    const lack = app.lack();
    if (lack !== null) {
      replace(this.root, h('h2', {}, t(lack)), button(t('tabScene'), () => this.go('scene'), { class: 'wide' }));
      return;
    }
    const keptFocus = document.activeElement?.id ?? '';
    replace(this.root,
      h('h2', {}, summaryText(plans)),
      h('p', { class: 'hint' }, t('crewCan', forceBand(plans.crew.force_N), forceBand(plans.crew.sustained_N))),
      app.partial ? null : missing(app),
      app.partial || plans.list.simpler === '' ? null : h('p', { class: 'hint simpler' }, t('simplerRigs', inUnits(plans.list.simpler))),
      app.list().length > 0 && app.list().every((plan) => edgeFirst(plan.over_edge)) ? h('p', { class: 'note warn' }, t('edgeFirstAll')) : null,
      app.list().length === 0 && !app.partial ? null : this.preference(),
      app.list().length === 0 ? null : h('p', { class: 'hint' }, t('timeHint')),
      h('ol', { class: 'rigs' }, ...app.list().map((plan, i) => this.card(plan, i))),
      ...this.lessLikely(plans.list.less_likely),
      app.partial ? h('p', { class: 'hint' }, t('stillSearching')) : null,
      h('p', { class: 'hint' }, t('searchNote', plans.list.searched, plans.list.distinct, plans.list.kept)));
    add(this.root, app.partial || app.list().length < 2 ? null : this.drawing());
    if (keptFocus !== '') {
      document.getElementById(keptFocus)?.focus();
    }
  }

  /// Simpler rigs for which the crew lacks pull at the likely figures: apart from the others, as check says no to them.
  private lessLikely(some: Plan[]): (HTMLElement | null)[] {
    const before = this.app.list().length;
    return some.length === 0 || this.app.partial ? [] : [h('h3', { class: 'less' }, t('lessLikely')), h('p', { class: 'hint' }, t('lessLikelyHelp')),
      h('ol', { class: 'rigs less' }, ...some.map((plan, i) => this.card(plan, before + i)))];
  }

  /// Brings the best answer into sight.
  toBest(): void {
    this.root.querySelector(`[data-rig="${summary(this.app.plans).best}"]`)?.scrollIntoView({ block: 'center' });
  }

  /// Drawn when it is looked at.
  private drawing(): HTMLElement {
    const box = h('div', { class: 'paper' });
    const details = h('details', { class: 'more', toggle: () => {
      if (details.open && box.childElementCount === 0) {
        this.app.drawPlans((svg) => replace(box, svg === null ? null : figure(svg)));
      }
    } }, h('summary', {}, t('figurePlans')), box);
    return details;
  }

  private preference(): HTMLElement {
    const key = this.app.key('prefer');
    const now = String(this.app.tree['prefer'] ?? fallback(key));
    return h('fieldset', { class: 'pick' }, h('legend', {}, t('first')), ...key.choices.split('|').map((choice) => button(choiceName(key.path, choice),
      () => this.app.set(['prefer'], choice), { 'aria-pressed': String(choice === now), id: `prefer-${choice}` })));
  }

  private card(plan: Plan, index: number): HTMLElement {
    const point = this.app.plans?.points[index];
    const hand = { ...plan.hand_force_range_N, likely: plan.hand_force_N };
    const word = this.app.verdictOf(index);
    const best = word !== 'no' && summary(this.app.plans).best === index;
    return h('li', { class: `rig ${word}`, 'data-rig': index }, 
      h('div', { class: 'row' }, h('h3', {}, `${index + 1} · ${ideal(plan.ideal_advantage)}:1`), badge(word)),
      h('p', { class: 'why' }, best ? h('b', {}, `${t('bestOne')}: `) : null, inUnits(plan.why)),
      plan.asks_below ? h('p', { class: 'note warn' }, t('asksBelow')) : null,
      plan.tends_far ? h('p', { class: 'note warn' }, t('tendsFar')) : null,
      h('dl', { class: 'facts' },
        fact(t('pull'), `${forceBand(hand)}${asWeight(plan.hand_force_N)}`),
        plan.over_edge === null ? null : fact(t('overEdge'), overEdge(plan.over_edge)),
        fact(t('timeRests'), minutesBand({ ...plan.time_with_rests_range_s, likely: plan.time_with_rests_s })),
        fact(t('pieces'), String(plan.pieces)),
        fact(t('advantage'), t('worksLike', `${advantage(plan.actual_advantage)}:1`)),
        fact(t('rope_'), length(plan.rope_needed_m)),
        fact(t('weakest'), point === undefined ? '?' : `${said(point.weakest)}: ${t('marginOf', margin(point.margin))}`)),
      button(t('openRig', index + 1), () => { this.app.choose(index); this.go('rig'); }, { class: 'wide', id: `open-${index}` }));
  }
}
