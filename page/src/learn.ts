// SPDX-License-Identifier: MIT
// For teaching: two rigs side by side, why the numbers are what they are, and questions whose answers come from the scene.
import type { Check, Plan, Plans, Strand } from './answers';
import { strandName, type App } from './app';
import { Ask, type TreeMap } from './core';
import { add, button, figure, h, replace } from './dom';
import { bodyName, itemName, said, t } from './msg';
import { badge, fact, noRig } from './rigs';
import type { Sheet } from './sheet';
import { quantity, valueAt, withoutRig, withValue } from './scene';
import { advantage, force, forceBand, ideal, inUnits, length, minutes, shown } from './units';

type Topic = 'compare' | 'why' | 'quiz';

/// A strand's tension over the pull, as a person writes it: 2, 1.5, 3 1/4 stays 3.25.
function times(value: number | null | undefined, pull: number | null): string {
  return value === null || value === undefined || pull === null || pull <= 0 ? '?' : ideal(Number((value / pull).toFixed(2)));
}

/// What a course has in its bags, and the advantages that are taught: of each the rig with the fewest pieces, as the core finds it.
const COURSE_KIT: TreeMap[] = [{ item: 'carabiner', count: 8 }, { item: 'pulley', count: 3 }, { item: 'toothed-capture', count: 1 }, { item: 'prusik', count: 3 }];
const COURSE_RATIOS = [2, 3, 5, 6, 7, 9];
const COURSE_CONTACTS = 3;
const COURSE_ROPE_M = 200;

export class Learn {
  private course: { of: TreeMap; plans: Plan[] } | null = null;
  private picked: number | null = null;  // by hand: 0 the open rig, else a rig of the course
  private lesson = h('div', {});
  private asCard = false;  // the next paper is the card to build from
  private topic: Topic = 'why';
  private pair: [number, number] | null = null;  // by hand
  private shownAnswers = new Set<number>();

  constructor(private readonly app: App, private readonly root: HTMLElement, private readonly sheet: Sheet) {}

  /// What is taught with: where no rig is open, one of the course.
  private get chosen(): number {
    return this.picked ?? (this.app.rig() === null && this.courseRigs().length > 0 ? 1 : 0);
  }

  render(): void {
    const tab = (topic: Topic): HTMLElement => button(t(topic), () => { this.topic = topic; this.render(); document.getElementById(`topic-${topic}`)?.focus(); },
      { id: `topic-${topic}`, 'aria-pressed': String(this.topic === topic) });
    const body = h('div', {});
    replace(this.root, h('div', { class: 'pick', role: 'group', 'aria-label': t('tabLearn') }, tab('why'), tab('compare'), tab('quiz')), body);
    const paper = (): HTMLElement => button(this.prints() ?? t('print'), () => window.print(), { class: 'wide', id: 'print-lesson' });
    if (this.topic === 'compare') {
      this.compare(body);
      add(this.root, this.prints() === null ? null : paper());
      return;
    }
    const lesson = this.lesson = h('div', {});
    replace(body, this.choose(), lesson);
    const card = (): void => { this.asCard = true; window.print(); };
    add(this.root, this.prints() === null ? null : paper(), this.topic !== 'why' || this.taught() === null ? null : button(`${t('print')}: ${this.taughtName()}`, card, { class: 'wide', id: 'print-card' }));
    const tree = this.taught();
    const check = tree === null ? null : this.app.checkOf(tree).check;
    if (tree === null || check === null || check.outcome !== 'solved') {
      replace(lesson, h('p', { class: 'hint' }, check === null ? t(noRig(this.app)) : inUnits(check.why)));
    } else if (this.topic === 'why') {
      this.why(lesson, check, tree);
    } else {
      this.quiz(lesson, check, tree);
    }
  }

  /// The rigs of a course kit in this scene, whatever is in the bags: somebody below who clips in, and rope enough.
  private courseRigs(): Plan[] {
    const { tree } = this.app;
    if (this.course?.of !== tree) {
      const scene: TreeMap = { ...withoutRig(tree), kit: COURSE_KIT, ropes: [{ name: 'main', length_m: COURSE_ROPE_M }] };
      const text = this.app.read(scene) === null ? this.app.core.ask(Ask.plan, COURSE_CONTACTS, 1) : null;
      const all = text === null ? [] : (JSON.parse(text) as Plans).list.plans;
      const least = (ratio: number): Plan[] => all.filter((plan) => Math.abs(plan.ideal_advantage - ratio) < 1e-6).sort((a, b) => a.pieces - b.pieces).slice(0, 1);
      this.course = { of: tree, plans: COURSE_RATIOS.flatMap(least) };
    }
    return this.course.plans;
  }

  /// A rig to teach with: the open one, or one of the course.
  private choose(): HTMLElement {
    const select: HTMLSelectElement = h('select', { id: 'teach', change: () => { this.picked = Number(select.value); this.render(); document.getElementById('teach')?.focus(); } },
      h('option', { value: 0, selected: this.chosen === 0 }, t('openRigOf', this.openName())),
      h('optgroup', { label: t('courseRigs') }, ...this.courseRigs().map((plan, i) => h('option', { value: i + 1, selected: this.chosen === i + 1 }, `${ideal(plan.ideal_advantage)}:1`))));
    return h('div', {}, h('label', { for: 'teach' }, t('teachWith')), select, h('p', { class: 'help' }, t('courseHelp')));
  }

  private openName(): string {
    const plan = this.app.ownRig ? null : this.app.openPlan();
    return plan === null ? '' : `${ideal(plan.ideal_advantage)}:1`;
  }

  /// The scene with the rig to teach with.
  private taught(): TreeMap | null {
    const plan = this.chosen === 0 ? undefined : this.courseRigs()[this.chosen - 1];
    return plan === undefined ? this.app.checked_()?.tree ?? null : this.courseTree(plan);
  }

  /// With rope and gear enough for any rig: a course shows what pulls how much, not what a rope reaches.
  private courseTree(plan: Plan): TreeMap {
    return { ...this.app.tree, kit: COURSE_KIT, kit_for: 'rig', ropes: [{ name: 'main', length_m: COURSE_ROPE_M }], rig: plan.rig };
  }

  // ------------------------------------------------------------------------------------------------------------------ paper

  /// What the printer would give here, by its name: the card of the rig that is taught with, the comparison, or the questions.
  /// @return null when nothing is taught
  prints(): string | null {
    if (this.topic === 'compare') {
      const list = this.all();
      return list.length < 2 ? null : t('printOf', t('printCompare', ...this.paired(list).map((i) => this.nameOf(i)) as [string, string]));
    }
    if (this.taught() === null) {
      return null;
    }
    return t('printOf', t(this.topic === 'quiz' ? 'printQuiz' : 'printWhy', this.taughtName()));
  }

  private taughtName(): string {
    const { app } = this;
    const own = app.rigName();
    const ratio = app.ownRig ? app.checked_()?.check?.ideal_advantage : app.openPlan()?.ideal_advantage;
    return this.chosen > 0 ? this.nameOf(app.list().length + this.chosen - 1) : typeof ratio === 'number' ? `${own}, ${ideal(ratio)}:1` : own;
  }

  /// The rigs of the list, then those of a course.
  private all(): Plan[] {
    return [...this.app.list(), ...this.courseRigs()];
  }

  private nameOf(index: number): string {
    const found = this.app.list().length;
    const ratio = `${ideal(this.all()[index]?.ideal_advantage ?? null)}:1`;
    return index < found ? `${t('rigNo', index + 1, found)}, ${ratio}` : t('courseRigOf', ratio);
  }

  /// Fills what only paper shows.
  fillCard(card: HTMLElement): void {
    const tree = this.topic === 'compare' ? null : this.taught();
    const check = tree === null ? null : this.app.checkOf(tree).check;
    const { asCard } = this;
    this.asCard = false;
    if (this.topic === 'compare' && this.all().length >= 2) {
      const list = this.all();
      const { table, pictures } = this.pairOf(list);
      const pair = this.paired(list);
      replace(card, this.sheetOf(t('compare'), table, h('div', { class: 'two' }, ...pictures), pair.some((i) => i >= this.app.list().length) ? h('p', {}, t('courseHelp')) : null));
    } else if (tree !== null && check !== null && this.topic === 'quiz' && check.outcome === 'solved') {
      const asked = this.questions(check, tree);
      replace(card,
        this.sheetOf(`${t('quiz')}: ${this.taughtName()}`, h('div', { class: 'two asked' }, h('div', { class: 'paper' }, this.blank(tree)), h('div', {}, ...this.given(check), h('ol', {}, ...asked.map(([question]) => h('li', { class: 'open' }, question)))))),
        this.sheetOf(t('answersTo', this.taughtName()), h('ol', {}, ...asked.map(([question, answer]) => h('li', {}, question, h('p', { class: 'reply' }, answer))))));
    } else if (tree !== null && check !== null && check.outcome === 'solved' && !asCard) {
      const told = this.lesson.cloneNode(true);
      replace(card, this.sheetOf(`${t('why')} ${this.taughtName()}`, this.chosen > 0 ? h('p', {}, t('courseHelp')) : null, told));
    } else {
      this.sheet.fillCard(card, tree);
      if (this.chosen > 0) {
        card.querySelectorAll('.page').forEach((page) => { page.classList.add('team'); page.prepend(h('p', { class: 'caution' }, t('courseCard', this.taughtName()))); });
      }
    }
  }

  private sheetOf(title: string, ...content: (Node | null)[]): HTMLElement {
    return h('div', { class: 'page lesson' }, h('h1', {}, title), h('p', { class: 'caution' }, t('caution')), ...content);
  }

  // -------------------------------------------------------------------------------------------------------------------- why

  private why(body: HTMLElement, check: Check, tree: TreeMap): void {
    const text = this.app.askOf(tree, Ask.ideal);
    const free = text === null ? null : (JSON.parse(text) as Check);
    const pull = check.raise.hand_force_N;
    const cells = (s: Strand, i: number): HTMLElement => {
      const bare = free?.raise.strands[i];
      return h('tr', {}, h('th', { scope: 'row' }, `${i + 1}. ${strandName(s.from, s.to)}`),
        h('td', { class: 'num' }, s.carries ? times(bare?.tension_N.likely, free?.raise.hand_force_N ?? null) : '–'),
        h('td', { class: 'num' }, s.carries ? times(s.tension_N.likely, pull) : '–'), h('td', { class: 'num' }, s.carries ? force(s.tension_N.likely ?? null) : '–'));
    };
    const svg = this.app.askOf(tree, Ask.section);
    const drawing = svg === null ? null : figure(svg);
    const kept = check.raise.contacts.filter((c) => !c.resting && (c.rate ?? 0) !== 0 && c.on !== null);
    replace(body, h('p', {}, t('whyText')),
      h('p', { class: 'reply' }, t('became', ideal(check.ideal_advantage), advantage(check.actual_advantage), kept.length, Math.round(100 * kept.reduce((least, c) => Math.min(least, c.efficiency.likely ?? 1), 1)), Math.round(100 * (check.raise.contacts.find((c) => c.on === null && !c.resting && (c.rate ?? 0) !== 0)?.efficiency.likely ?? 1)))),
      h('dl', { class: 'facts' }, fact(`${t('advantage')}, ${t('noFriction')}`, ideal(check.ideal_advantage)), fact(`${t('advantage')}, ${t('withFriction')}`, `${advantage(check.actual_advantage)} (${advantage(check.actual_advantage_range.low)}–${advantage(check.actual_advantage_range.high)})`)),
      h('div', { class: 'scroll', tabindex: 0, role: 'region', 'aria-label': t('timesPull') }, h('table', {}, h('caption', {}, t('timesPull')),
        h('thead', {}, h('tr', {}, h('th', { scope: 'col' }, t('strand')), h('th', { scope: 'col' }, t('noFriction')), h('th', { scope: 'col' }, t('withFriction')), h('th', { scope: 'col' }, t('pull')))),
        h('tbody', {}, ...check.raise.strands.map(cells)))),
      h('h2', {}, t('lossAt')),
      this.losses(check));
    add(body, h('div', { class: 'paper why-figure' }, drawing));
    if (drawing !== null) {
      // The multiples take the forces' place; their texts are the bold ones that end in a unit of force.
      drawing.querySelectorAll('text[font-weight="bold"]').forEach((text) => { if (/\d (?:N|lbf)$/.test(text.textContent ?? '')) { text.remove(); } });
      check.raise.strands.forEach((s, i) => this.label(drawing, i, s, s.carries ? times(free?.raise.strands[i]?.tension_N.likely, free?.raise.hand_force_N ?? null) : ''));
    }
  }

  /// What each bend takes.
  private losses(check: Check): HTMLElement {
    return h('ul', { class: 'losses' }, ...check.raise.contacts.filter((c) => !c.resting && (c.rate ?? 0) !== 0)
      .map((c) => h('li', {}, `${c.on === null ? bodyName('lip') : t('bendAt', itemName(c.on), bodyName(c.body))}: ${t('keeps', ...this.passed(c.efficiency.likely ?? 1))} (${Math.round(c.wrap_deg)}°)`)));
  }

  /// What the questions are to be answered from.
  private given(check: Check): HTMLElement[] {
    const mass = quantity(valueAt(this.app.tree, ['load', 'mass_kg']))?.likely;
    return [h('p', { class: 'given' }, h('b', {}, `${t('given')}: `), `${t('loadMass')} ${mass === undefined ? '' : `${inUnits(`${mass} kg`)}, `}${force(check.weight_N.likely ?? null)}.`), this.losses(check)];
  }

  /// What a bend passes on and what it loses, of 100.
  private passed(part: number): [number, number] {
    const on = Math.round(100 * part);
    return [on, 100 - on];
  }

  /// The multiple of the pull, on its strand: in the hole where the strand is long there, else where strands are drawn apart.
  private label(drawing: SVGSVGElement, strand: number, s: Strand, text: string): void {
    const groups = drawing.querySelectorAll<SVGGElement>(`g[data-strand="${strand}"]`);
    const hole = s.from === 'load' || s.to === 'load';
    const shape = (hole ? groups[0] : groups[groups.length - 1])?.querySelector<SVGGeometryElement>('path, line');
    if (text === '' || shape === null || shape === undefined) {
      return;
    }
    // Neighbours in the hole lie side by side: each is marked at another height.
    const at = shape.getPointAtLength(shape.getTotalLength() * (hole ? 0.3 + 0.13 * (strand % 4) : 0.5));
    const mark = document.createElementNS('http://www.w3.org/2000/svg', 'text');
    mark.setAttribute('x', at.x.toFixed(1));
    mark.setAttribute('y', (at.y + 3.2).toFixed(1));
    mark.setAttribute('class', 'multiple');
    mark.textContent = text;
    drawing.appendChild(mark);
  }

  // ---------------------------------------------------------------------------------------------------------------- compare

  /// The pair, within the list.
  private paired(list: Plan[]): [number, number] {
    const other = list.findIndex((plan) => ideal(plan.ideal_advantage) !== ideal(list[0]?.ideal_advantage ?? null));
    const [a, b] = this.pair ?? [0, Math.max(other, 1)];  // two that differ
    return [Math.min(a, list.length - 1), Math.min(b, list.length - 1)];
  }

  private compare(body: HTMLElement): void {
    const found = this.app.list();
    const list = this.all();
    if (list.length < 2) {
      replace(body, h('p', { class: 'hint' }, t('pickTwo')));
      return;
    }
    const { table, pictures } = this.pairOf(list);
    const pair = this.paired(list);
    const choose = (side: 0 | 1): HTMLElement => {
      const select: HTMLSelectElement = h('select', { id: `pair-${side}`, change: () => { this.pair = side === 0 ? [Number(select.value), pair[1]] : [pair[0], Number(select.value)]; this.render(); document.getElementById(`pair-${side}`)?.focus(); } },
        ...[found, this.courseRigs()].map((plans, group) => h('optgroup', { label: t(group === 0 ? 'tabRigs' : 'courseRigs') }, ...plans.map((plan, k) => {
          const i = group * found.length + k;
          return h('option', { value: i, selected: i === pair[side] }, `${group === 0 ? `${k + 1}: ` : ''}${ideal(plan.ideal_advantage)}:1, ${force(plan.hand_force_N)}, ${minutes(plan.time_with_rests_s)}, ${t('piecesN', plan.pieces)}`);
        }))));
      return h('div', {}, h('label', { for: `pair-${side}` }, t(side === 0 ? 'rigA' : 'rigB')), select);
    };
    replace(body, h('div', { class: 'two' }, choose(0), choose(1)), h('p', { class: 'help' }, t('courseHelp')),
      h('div', { class: 'scroll', tabindex: 0, role: 'region', 'aria-label': t('compare') }, table), h('div', { class: 'two figures' }, ...pictures));
  }

  /// Two rigs in figures and drawings.
  private pairOf(list: Plan[]): { table: HTMLElement; pictures: HTMLElement[] } {
    const found = this.app.list();
    const trees = this.paired(list).map((i) => (i < found.length ? this.app.withRig(list[i]?.rig ?? {}) : this.courseTree(list[i] as Plan)));
    const checks = trees.map((tree) => this.app.checkOf(tree).check);
    const [a, b] = checks;
    const ratio = (x: number | null | undefined, y: number | null | undefined): string => (typeof x !== 'number' || typeof y !== 'number' || x === 0 ? '–' : `× ${(y / x).toFixed(2)}`);
    const row = (name: string, get: (c: Check) => number | null, show: (x: number | null) => string): HTMLElement =>
      h('tr', {}, h('th', { scope: 'row' }, name), ...checks.map((c) => h('td', { class: 'num' }, c === null ? '?' : show(get(c)))), h('td', { class: 'num' }, a == null || b == null ? '–' : ratio(get(a), get(b))));
    const sides = [t('rigA'), t('rigB')] as const;
    const pictures = trees.map((tree, side) => {
      const svg = this.app.askOf(tree, Ask.section);
      return h('figure', {}, h('figcaption', {}, h('b', {}, `${sides[side] ?? ''}: `), this.nameOf(this.paired(list)[side] ?? 0)), h('div', { class: 'paper' }, svg === null ? null : figure(svg)));
    });
    const column = (name: string, i: number): HTMLElement => h('th', { scope: 'col' }, `${name}: ${ideal(list[this.paired(list)[i] ?? 0]?.ideal_advantage ?? null)}:1`);
    const table = h('table', {}, h('thead', {}, h('tr', {}, h('td', {}), ...sides.map(column), h('th', { scope: 'col' }, t('ratio')))),
        h('tbody', {},
          h('tr', { class: 'crew' }, h('th', { scope: 'row' }, t('crewRow')), ...checks.map((c) => h('td', {}, c === null ? '?' : badge(this.app.verdictOfCheck(c)))), h('td', {}, '–')),
          row(t('pull'), (c) => c.raise.hand_force_N, force),
          row(`${t('advantage')}, ${t('noFriction')}`, (c) => c.ideal_advantage, ideal),
          row(`${t('advantage')}, ${t('withFriction')}`, (c) => c.actual_advantage, advantage),
          row(t('onAnchor'), (c) => c.raise.on_anchor_N.likely ?? null, force),
          row(t('throwOf'), (c) => c.throw_m, (x) => length(x, true)),
          row(t('resetsN', ''), (c) => c.resets, (x) => (x === null ? '–' : String(x))),
          row(t('timeRests'), (c) => c.time_with_rests_s, minutes),
          row(t('pieces'), (c) => c.pieces, String)));
    return { table, pictures };
  }

  // ------------------------------------------------------------------------------------------------------------------- quiz

  private questions(check: Check, tree: TreeMap): [string, string][] {
    const list: [string, string][] = [];
    const raise = check.raise;
    list.push([t('qAdvantage'), `${ideal(check.ideal_advantage)} : 1`]);
    list.push([t('qHand', shown('m').unit), t('aHand', ideal(check.ideal_advantage), shown('m').unit)]);
    if (check.actual_advantage !== null) {
      list.push([t('qReal'), t('aReal', Math.round(100 / check.actual_advantage))]);
    }
    const fixed = raise.bodies.filter((b) => b.fixed);
    list.push([t('qAnchor'), `${t('onAnchor')}: ${forceBand(raise.on_anchor_N)}; ${fixed.map((b) => `${b.name === 'anchor' ? t('onAnchorItself') : bodyName(b.name)}: ${forceBand(b.force_N)}`).join('; ')}`]);
    const grip = raise.grips.find((g) => g.name !== 'station' && g.name !== 'anchor');
    if (grip !== undefined) {
      const captures = [...raise.contacts.filter((c) => c.capture).map((c) => t('bendAt', itemName(c.on ?? ''), bodyName(c.body))),
        ...raise.grips.filter((g) => g.name === 'station' || g.name === 'anchor').map((g) => t('bendAt', itemName(g.hitch), bodyName(g.name)))];
      const held = check.hold?.grips.find((g) => g.name === grip.name);
      list.push([t('qSlip', `${bodyName(grip.name)} (${itemName(grip.hitch)})`), captures.length === 0 ? t('aSlipNone') : t('aSlipHold', captures.join(', '), held === undefined ? '?' : forceBand({ ...held.force_range_N, likely: held.force_N }))]);
    }
    const most = raise.strands.filter((s) => s.carries).reduce<Strand | null>((best, s) => (best === null || (s.tension_N.likely ?? 0) > (best.tension_N.likely ?? 0) ? s : best), null);
    if (most !== null) {
      list.push([t('qHard'), `${strandName(most.from, most.to)}: ${forceBand(most.tension_N)}`]);
    }
    const turned = this.turned(tree);
    if (turned !== null && turned.outcome === 'solved') {
      list.push([t('qAngle'), t('aAngle', force(turned.raise.hand_force_N), force(raise.hand_force_N))]);
    }
    return list;
  }

  private turned(tree: TreeMap): Check | null {
    const ropes = (tree['rig'] as TreeMap | undefined)?.['ropes'];
    for (const [r, rope] of (Array.isArray(ropes) ? ropes : []).entries()) {
      const path = (rope as TreeMap)['path'];
      const hand = Array.isArray(path) ? path.findIndex((s) => (s as TreeMap)['hand'] !== undefined) : -1;
      if (hand >= 0) {
        return this.app.checkOf(withValue(tree, ['rig', 'ropes', r, 'path', hand, 'angle_deg'], 45) as TreeMap).check;
      }
    }
    return null;
  }

  /// The figure without its numbers: they are the answers.
  private blank(tree: TreeMap): SVGSVGElement | null {
    const svg = this.app.askOf(tree, Ask.section);
    const drawing = svg === null ? null : figure(svg);
    const verdicts = ['helps', 'does not help', 'This crew: no', 'This crew: not sure', 'This crew: yes, over the ranges given'].map((word) => said(word));  // of this scene, not of the rig
    drawing?.querySelectorAll('text').forEach((text) => { if (/\d/.test(text.textContent ?? '') || verdicts.includes(text.textContent ?? '')) { text.remove(); } });
    drawing?.querySelectorAll('desc').forEach((desc) => desc.remove());
    return drawing;
  }

  private quiz(body: HTMLElement, check: Check, tree: TreeMap): void {
    replace(body, h('div', { class: 'paper' }, this.blank(tree)), ...this.given(check), ...this.questions(check, tree).map(([question, answer], i) => {
      const text = h('p', { class: 'reply', role: 'status', id: `reply-${i}` }, this.shownAnswers.has(i) ? answer : '');
      const flip = button(t('show'), () => {
        const show = flip.getAttribute('aria-expanded') !== 'true';
        flip.setAttribute('aria-expanded', String(show));
        flip.textContent = t(show ? 'hide' : 'show');
        text.textContent = show ? answer : '';
      }, { 'aria-expanded': 'false', 'aria-controls': `reply-${i}` });
      return h('div', { class: 'card question' }, h('p', {}, `${i + 1}. ${question}`), flip, text);
    }));
    this.shownAnswers.clear();
  }
}
