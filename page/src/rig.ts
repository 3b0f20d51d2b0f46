// SPDX-License-Identifier: MIT
// One rig opened: the figure to scale, the hand pulled back, what changes cost, and each part on a tap.
import type { Check, Glance } from './answers';
import type { App, View } from './app';
import { Ask } from './core';
import { add, button, figure, h, replace, Slots } from './dom';
import { Drawing } from './drawing';
import { Haul } from './haul';
import { said, saidTrouble, t } from './msg';
import { nearestPart, Parts } from './parts';
import { badge, fact, noRig } from './rigs';
import { Sight } from './sight';
import { advantage, asWeight, forceBand, ideal, inUnits, length, margin, minutes, minutesBand, share } from './units';
import { WhatIf } from './whatif';

export class RigView {
  private readonly paper = h('div', { class: 'paper', id: 'section' });
  private readonly facts = h('div', { class: 'answer' });
  private readonly below = h('div', {});
  private readonly haul: Haul;
  private readonly whatIf: WhatIf;
  private readonly parts: Parts;
  private readonly section = new Drawing();
  private readonly slots = new Slots();
  private readonly figureSight = new Sight(this.paper);
  private readonly factSight = new Sight(this.facts);

  constructor(private readonly app: App, private readonly root: HTMLElement, private readonly go: (view: View) => void) {
    this.haul = new Haul(app, this.paper, (svg) => this.figureSight.show(() => this.draw(svg), true));
    this.whatIf = new WhatIf(app, this.factSight, (check, base) => this.showCheck(check, base), this.figureSight, (svg) => this.draw(svg));
    this.parts = new Parts(app);
    this.paper.addEventListener('click', (event) => {
      if (this.section.element !== null && !this.haul.dragged()) {
        const part = nearestPart(this.section.element, event.clientX, event.clientY);
        if (part !== null) {
          this.parts.tap(part, event.clientY);
        }
      }
    });
  }

  leave(): void {
    this.haul.stop();
  }

  render(): void {
    this.haul.stop();
    const { app } = this;
    const checked = app.checked_();
    if (checked === null) {
      replace(this.root, h('p', { class: 'callout' }, t(noRig(app))), button(t('tabRigs'), () => this.go('rigs'), { class: 'wide' }), button(t('tabSheet'), () => this.go('sheet'), { class: 'wide' }));
      return;
    }
    if (checked.check === null) {
      replace(this.root, h('div', { class: 'callout' }, h('h2', {}, t('rigRefused')), h('p', {}, checked.diag === null ? '' : saidTrouble(checked.diag.message, checked.diag.accepted)),
        button(t('chooseAgain'), () => { app.choose(0); this.go('rigs'); }, { class: 'wide' })));
      return;
    }
    const check = checked.check;
    replace(this.root, this.head(check), this.paper, this.parts.brief, this.haul.bar, this.haul.element, this.facts, this.whatIf.element, this.parts.element, this.below);
    this.haul.start(checked.tree, check);
    this.parts.start(checked.tree, check);
    this.whatIf.start(checked.tree, check);
    this.factSight.show(() => this.showCheck(check, null), true);
    this.figureSight.show(() => this.draw(app.askOf(checked.tree, Ask.section)), true);
    replace(this.below, this.numbers(check));
    this.angleFigures(checked.tree);
    app.warm(checked.tree);
  }

  private head(check: Check): HTMLElement {
    const { app } = this;
    const ratio = check.ideal_advantage === null ? '' : `, ${ideal(check.ideal_advantage)}:1`;
    const list = app.all();
    const step = (by: number) => (): void => app.choose((app.open + by + list.length) % list.length);
    return h('div', { class: 'row head' },
      list.length > 1 ? button('‹', step(app.ownRig ? 0 : -1), { 'aria-label': t('back') }) : null,
      h('h2', {}, `${app.rigName()}${ratio}`),
      list.length > 1 ? button('›', step(app.ownRig ? 0 : 1), { 'aria-label': t('next') }) : null,
      this.enlarge());
  }

  private enlarge(): HTMLElement {
    const large = (): boolean => this.paper.classList.contains('large');
    const word = (): string => (large() ? '1×' : '2×');
    const name = (): string => `${t(large() ? 'shrink' : 'enlarge')}: ${word()}`;
    const flip = button(word(), () => {
      this.paper.classList.toggle('large');
      flip.textContent = word();
      flip.title = name();
      flip.setAttribute('aria-label', name());
    }, { 'aria-label': name(), title: name(), id: 'enlarge' });
    return flip;
  }

  private draw(svg: string | null): void {
    const { section } = this;
    if (svg === null) {
      return;
    }
    section.show(svg);
    if (section.element === null || section.element.parentNode !== this.paper) {
      replace(this.paper, section.element);
      if (section.element !== null) {
        this.parts.mark(section.element);  // what is chosen stays so in a figure that only changes
      }
    }
  }

  /// The rig as it is, or as it would be. @param base what to compare with, or null
  private showCheck(check: Glance | Check, base: Check | null): void {
    if (base !== null) {
      this.haul.stop();  // one thing moves at a time
    }
    const hand = { ...check.raise.hand_force_range_N, likely: check.raise.hand_force_N };
    const word = this.app.verdictOfCheck(check);
    const whole = base === null ? this.haul.whole() : null;  // a rig that is only thought of is not run through
    const rows = [
      [t('pull'), `${forceBand(hand)}${asWeight(check.raise.hand_force_N)}`],
      [t('advantage'), `${advantage(check.actual_advantage)} (${advantage(check.actual_advantage_range.low)}–${advantage(check.actual_advantage_range.high)}), ${t('idealAdv')} ${ideal(check.ideal_advantage)}`],
      [t('share'), `${share(check.crew_share)} (${share(check.crew_share_range.low)}–${share(check.crew_share_range.high)})`],
      [t('throwOf'), length(check.throw_m, true)],
      [t('timePlain'), minutesBand({ ...check.time_range_s, likely: check.time_s })],
      whole === null ? [t('timeRests'), `${minutesBand({ ...check.time_with_rests_range_s, likely: check.time_with_rests_s })}${check.resets === null ? '' : `, ${t('resetsN', check.resets)}`}`] : [t('timeAll'), `${minutesBand({ ...whole.time_range_s, likely: whole.time_s })}, ${t('resetsN', whole.resets)}`],
      [t('rope_'), check.ropes.map((r) => `${said(r.name)} ${length(r.needed_m)}${r.length_m === null ? '' : ` / ${length(r.length_m)}`}`).join(', ')],
    ] as const;
    const notes = base === null && 'notes' in check ? check.notes : [];
    const texts = [check.outcome === 'solved' ? t(`canLong_${word}`) : inUnits(check.why), this.keeps(check), ...rows.map(([, value]) => value), ...notes.map((note) => inUnits(note.text))];
    this.slots.show(this.facts, [word, ...rows.map(([name]) => name), ...notes.map((note) => note.level)].join('\n'), texts, (slot) => [
      h('p', { class: 'row' }, badge(word), h('span', {}, slot())),
      h('p', { class: 'keeps' }, slot()),
      h('dl', { class: 'facts' }, ...rows.map(([name]) => fact(name, slot()))),
      ...notes.map((note) => h('p', { class: `note ${note.level}` }, slot())),
    ], base !== null);
  }

  /// The word above is about pulls with rests at the resets; this is about going on without.
  private keeps(check: Glance): string {
    const { likely, high } = { likely: check.kept_share, high: check.kept_share_range.high };
    if (check.outcome !== 'solved' || likely === null || high === null || check.answer === 'no') {
      return '';
    }
    const enough = high > 1 && (check.resets ?? 0) > 0 && check.time_s !== null && check.time_with_rests_s === check.time_s;
    return `${t(high <= 1 ? 'keeps_yes' : likely <= 1 ? 'keeps_perhaps' : 'keeps_no', minutes(check.time_s), forceBand(check.crew.sustained_N))}${enough ? ` ${t('restIn')}` : ''}`;
  }

  private numbers(check: Check): HTMLElement {
    const row = (...cells: string[]): HTMLElement => h('tr', {}, ...cells.map((cell, i) => (i === 0 ? h('th', { scope: 'row' }, cell) : h('td', {}, cell))));
    const head = (...cells: string[]): HTMLElement => h('thead', {}, h('tr', {}, ...cells.map((cell) => h('th', { scope: 'col' }, cell))));
    return h('details', { class: 'more' }, h('summary', {}, t('numbers')),
      h('div', { class: 'scroll', tabindex: 0, role: 'region', 'aria-label': t('numbers') },
        h('table', {}, head(t('strand'), t('raising'), t('holding')),
          h('tbody', {}, ...check.raise.strands.map((s, i) => row(this.parts.strandName(s), forceBand(s.tension_N), check.hold === null ? '–' : forceBand(check.hold.strands[i]?.tension_N ?? { low: null, high: null }))))),
        h('table', {}, head(t('limitOf'), t('pull'), t('weakest'), t('source')),
          h('tbody', {}, ...check.limits.map((l) => row(said(l.element), forceBand({ low: l.force_N, high: l.force_N }), `${margin(l.margin)} (${forceBand({ low: l.limit_N, high: l.limit_N })})`, this.app.sourceTitle(l.source)))))),
      h('p', { class: 'help' }, check.caution));
  }

  private angleFigures(tree: Parameters<App['askOf']>[0]): void {
    const box = h('div', { class: 'paper' });
    const details = h('details', { class: 'more', toggle: () => {
      if (details.open && box.childElementCount === 0) {
        const svg = this.app.askOf(tree, Ask.angle);
        const drawing = svg === null ? null : figure(svg);
        add(box, drawing);
      }
    } }, h('summary', {}, t('angleCurve')), box);
    add(this.below, details);
  }
}
