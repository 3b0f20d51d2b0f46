// SPDX-License-Identifier: MIT
// Each part of the rig on a tap: what it carries, how far it is from its limit, and what happens if it lets go.
import type { Check, Limit, Strand } from './answers';
import { strandName, type App } from './app';
import type { TreeMap } from './core';
import { button, h, replace } from './dom';
import { lossesOf, type LostElement } from './lose';
import { bodyName, itemName, said, t } from './msg';
import { fact } from './rigs';
import { forceBand, margin } from './units';

const KINDS = ['strand', 'body', 'contact', 'grip'] as const;  // contact: what a rope runs over; grip: a hitch
export type Part = { kind: (typeof KINDS)[number]; index: number };
/// What is small and lies on something larger wins where they meet.
const NEAR: { readonly [K in Part['kind']]: number } = { strand: 1, body: 0.6, contact: 0.4, grip: 0.4 };

const TOUCH_PX = 26;
const ON_PX = 5;
const SAMPLES = 24;

/// The part of the figure nearest to a tap, if it is near enough for a finger.
export function nearestPart(svg: SVGSVGElement, x: number, y: number): Part | null {
  let best: Part | null = null;
  let least = TOUCH_PX;
  for (const group of Array.from(svg.querySelectorAll<SVGGElement>(KINDS.map((kind) => `g[data-${kind}]`).join()))) {
    const kind = KINDS.find((k) => group.hasAttribute(`data-${k}`)) ?? 'body';
    const part: Part = { kind, index: Number(group.getAttribute(`data-${kind}`)) };
    const box = group.getBoundingClientRect();
    const within = kind === 'contact' || kind === 'grip' ? Math.hypot(box.x + box.width / 2 - x, box.y + box.height / 2 - y) - box.width / 2 : Infinity;
    if (within <= ON_PX && within - ON_PX < least) {
      least = within - ON_PX;  // on the thing itself: what passes behind it does not count
      best = part;
    }
    for (const shape of Array.from(group.querySelectorAll<SVGGeometryElement>('path, line, circle, rect, polygon'))) {
      const total = shape.getTotalLength();
      const matrix = shape.getScreenCTM();
      for (let i = 0; i <= SAMPLES && matrix !== null; i++) {
        const p = shape.getPointAtLength((total * i) / SAMPLES).matrixTransform(matrix);
        const distance = Math.hypot(p.x - x, p.y - y) * NEAR[kind];
        if (distance < least) {
          least = distance;
          best = part;
        }
      }
    }
  }
  return best;
}

/// A name as it stands, within an expression.
const plainly = (name: string): string => name.replace(/[^\w-]/g, '\\$&');

export class Parts {
  readonly element = h('section', { class: 'parts', 'aria-label': t('parts') });
  /// The answer in short, for a place beside the figure.
  readonly brief = h('div', { class: 'tapped', id: 'tapped', hidden: true });
  private tree: TreeMap | null = null;
  private check: Check | null = null;
  private selected: Part | null = null;
  private readonly choice = h('select', { id: 'part', change: () => this.chosen() });
  private readonly text = h('div', { class: 'part', role: 'status' });
  private drawing: SVGSVGElement | null = null;

  constructor(private readonly app: App) {}

  strandName(s: Strand): string {
    return strandName(s.from, s.to);
  }

  start(tree: TreeMap, check: Check): void {
    this.tree = tree;
    this.check = check;
    this.selected = null;
    if (this.drawing !== null) {
      this.mark(this.drawing);
    }
    replace(this.choice, h('option', { value: '' }, '–'),
      h('optgroup', { label: t('strand') }, ...check.raise.strands.map((s, i) => h('option', { value: `strand-${i}` }, `${i + 1}. ${this.strandName(s)}`))),
      h('optgroup', { label: t('pieces') }, ...check.raise.contacts.flatMap((c, i) => (c.on === null || c.resting ? [] : [h('option', { value: `contact-${i}` }, t('bendAt', itemName(c.on), bodyName(c.body)))])),
        ...check.raise.grips.map((g, i) => h('option', { value: `grip-${i}` }, t('bendAt', itemName(g.hitch), bodyName(g.name))))),
      h('optgroup', { label: t('body') }, ...check.raise.bodies.map((b, i) => h('option', { value: `body-${i}` }, bodyName(b.name)))));
    replace(this.element, h('h3', {}, h('label', { for: 'part' }, t('parts'))), this.choice, this.text);
    replace(this.text);
    this.brief.hidden = true;
  }

  mark(drawing: SVGSVGElement): void {
    this.drawing = drawing;
    const part = this.selected;
    const groups = part === null ? [] : Array.from(drawing.querySelectorAll(`g[data-${part.kind}="${part.index}"]`));
    drawing.querySelectorAll('.chosen').forEach((g) => groups.includes(g) || g.removeAttribute('class'));
    groups.forEach((g) => g.classList.add('chosen'));
  }

  private chosen(): void {
    const [kind, index] = this.choice.value.split('-');
    const known = KINDS.find((k) => k === kind);
    if (known !== undefined) {
      this.select({ kind: known, index: Number(index) });
    }
  }

  select(part: Part): void {
    this.selected = part;
    this.choice.value = `${part.kind}-${part.index}`;
    if (this.drawing !== null) {
      this.mark(this.drawing);
    }
    const told = part.kind === 'strand' ? this.tellStrand(part.index) : part.kind === 'body' ? this.tellBody(part.index) : this.tellPiece(part);
    replace(this.text, ...told);
    this.brief.hidden = true;
  }

  /// A tap on the figure: its answer is far below, so it stands in short over the half of the screen that was not tapped.
  tap(part: Part, y: number): void {
    this.select(part);
    const name = this.text.querySelector('h4')?.textContent ?? '';
    const carries = Array.from(this.text.querySelectorAll('.fact'), (one) => `${one.querySelector('dt')?.textContent}: ${one.querySelector('dd')?.textContent}`)[0] ?? '';
    const outcome = this.text.querySelector('.note, .hint:last-child')?.textContent ?? '';
    replace(this.brief, button('×', () => { this.brief.hidden = true; }, { 'aria-label': t('close') }), h('p', {}, h('b', {}, `${name}. `), `${carries}. ${t('letsGo')}: ${outcome}`),
      button(t('moreBelow'), () => { this.brief.hidden = true; this.element.scrollIntoView({ block: 'start' }); this.choice.focus({ preventScroll: true }); }, { id: 'tapped-more' }));
    this.brief.classList.toggle('low', y < innerHeight / 2);
    this.brief.hidden = false;
  }

  private losses(names: (element: LostElement) => boolean): Node[] {
    const losses = this.tree === null ? null : lossesOf(this.app, this.tree, names);
    return [h('h4', {}, t('letsGo')), ...(losses ?? [h('p', { class: 'hint' }, t('loseLater'))])];
  }

  /// A strand as the core names it when it is cut: "main from load to lip (2)".
  private lostName(index: number): string {
    const strands = this.check?.raise.strands ?? [];
    const name = (s: Strand): string => `${s.rope} from ${s.from} to ${s.to}`;
    const mine = name(strands[index] as Strand);
    const nth = strands.slice(0, index + 1).filter((s) => name(s) === mine).length;
    return nth > 1 ? `${mine} (${nth})` : mine;
  }

  private tellStrand(index: number): Node[] {
    const check = this.check;
    const strand = check?.raise.strands[index];
    if (check === null || strand === undefined) {
      return [];
    }
    const hold = check.hold?.strands[index];
    const grip = check.raise.grips.filter((g) => [strand.from, strand.to].includes(g.name));
    return [h('h4', {}, t('strandFrom', bodyName(strand.from), bodyName(strand.to))),
      h('dl', { class: 'facts' }, fact(t('raising'), strand.carries ? forceBand(strand.tension_N) : t('carriesNothing')), hold === undefined ? fact(t('holding'), '–') : fact(t('holding'), forceBand(hold.tension_N)),
        ...grip.map((g) => fact(`${t('gripOf', bodyName(g.name))} (${itemName(g.hitch)})`, forceBand({ ...g.force_range_N, likely: g.force_N })))),
      ...this.losses((e) => e.element === this.lostName(index))];
  }

  /// What a rope runs over, or a hitch: by its own name, not its place's.
  private tellPiece({ kind, index }: Part): Node[] {
    const { check } = this;
    const grip = kind === 'grip' ? check?.raise.grips[index] : undefined;
    const contact = kind === 'contact' ? check?.raise.contacts[index] : undefined;
    const [what, where] = [grip?.hitch ?? contact?.on ?? null, grip?.name ?? contact?.body ?? ''];
    if (check === null || what === null) {
      return [];
    }
    const held = grip === undefined ? check.hold?.contacts[index] : check.hold?.grips.find((g) => g.name === where);
    const band = (x: typeof held): string => (x === undefined ? '–' : 'hitch' in x ? forceBand({ ...x.force_range_N, likely: x.force_N }) : forceBand(x.force_N));
    const limits = check.limits.filter((l) => l.element.startsWith(grip === undefined ? `${where}: ${what}` : `grip ${where}: ${what}`));
    return [h('h4', {}, t('bendAt', itemName(what), bodyName(where))), h('dl', { class: 'facts' }, fact(t('raising'), band(grip ?? contact)), fact(t('holding'), band(held))),
      ...this.limits(limits), ...this.losses((e) => new RegExp(`^${what} (?:on|at) ${plainly(where)}(?: does not \\w+)?$`).test(e.element))];
  }

  private limits(limits: Limit[]): Node[] {
    return limits.length === 0 ? [h('p', { class: 'hint' }, t('noLimit'))]
      : limits.map((l) => h('p', {}, `${t('limitOf')}: ${said(l.element)}: ${forceBand({ low: l.limit_N, high: l.limit_N })}, ${t('marginOf', margin(l.margin))} (${this.app.sourceTitle(l.source)}${l.basis === 'memory' ? `, ${said('from memory')}` : ''})`));
  }

  private tellBody(index: number): Node[] {
    const check = this.check;
    const body = check?.raise.bodies[index];
    if (check === null || body === undefined) {
      return [];
    }
    const hold = check.hold?.bodies[index];
    const limits = check.limits.filter((l) => l.element.startsWith(body.name) || l.element.startsWith(`grip ${body.name}`));
    const bends = check.raise.contacts.filter((c) => c.body === body.name);
    return [h('h4', {}, bodyName(body.name)),
      h('dl', { class: 'facts' }, fact(t('raising'), forceBand(body.force_N)), hold === undefined ? fact(t('holding'), '–') : fact(t('holding'), forceBand(hold.force_N)),
        ...bends.map((c) => fact(`${t('bend')}: ${c.on === null ? bodyName('lip') : itemName(c.on)}`, forceBand(c.force_N)))),
      ...this.limits(limits),
      ...this.losses((e) => e.element === body.name || [' on ', ' at '].some((word) => e.element.includes(`${word}${body.name}`) && new RegExp(`${plainly(body.name)}(?: does not \\w+)?$`).test(e.element)))];
  }
}
