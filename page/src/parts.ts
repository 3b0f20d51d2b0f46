// SPDX-License-Identifier: MIT
// Each part of the rig on a tap: what it carries, how far it is from its limit, and what happens if it lets go.
import type { Check, Strand } from './answers';
import { strandName, type App } from './app';
import type { TreeMap } from './core';
import { h, replace } from './dom';
import { lossesOf, type LostElement } from './lose';
import { bodyName, itemName, said, t } from './msg';
import { fact } from './rigs';
import { forceBand, margin } from './units';

export type Part = { kind: 'strand' | 'body'; index: number };

const TOUCH_PX = 26;
const SAMPLES = 24;

/// The part of the figure nearest to a tap, if it is near enough for a finger.
export function nearestPart(svg: SVGSVGElement, x: number, y: number): Part | null {
  let best: Part | null = null;
  let least = TOUCH_PX;
  for (const group of Array.from(svg.querySelectorAll<SVGGElement>('g[data-strand], g[data-body]'))) {
    const strand = group.getAttribute('data-strand');
    const part: Part = { kind: strand === null ? 'body' : 'strand', index: Number(strand ?? group.getAttribute('data-body')) };
    for (const shape of Array.from(group.querySelectorAll<SVGGeometryElement>('path, line, circle, rect, polygon'))) {
      const total = shape.getTotalLength();
      const matrix = shape.getScreenCTM();
      for (let i = 0; i <= SAMPLES && matrix !== null; i++) {
        const p = shape.getPointAtLength((total * i) / SAMPLES).matrixTransform(matrix);
        // A body is small: it wins over the strands that meet there.
        const distance = Math.hypot(p.x - x, p.y - y) * (part.kind === 'body' ? 0.6 : 1);
        if (distance < least) {
          least = distance;
          best = part;
        }
      }
    }
  }
  return best;
}

export class Parts {
  readonly element = h('section', { class: 'parts', 'aria-label': t('parts') });
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
      h('optgroup', { label: t('body') }, ...check.raise.bodies.map((b, i) => h('option', { value: `body-${i}` }, bodyName(b.name)))));
    replace(this.element, h('h3', {}, h('label', { for: 'part' }, t('parts'))), this.choice, this.text);
    replace(this.text);
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
    if (kind === 'strand' || kind === 'body') {
      this.select({ kind, index: Number(index) });
    }
  }

  select(part: Part): void {
    this.selected = part;
    this.choice.value = `${part.kind}-${part.index}`;
    if (this.drawing !== null) {
      this.mark(this.drawing);
    }
    replace(this.text, ...(part.kind === 'strand' ? this.tellStrand(part.index) : this.tellBody(part.index)));
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
      ...(limits.length === 0 ? [h('p', { class: 'hint' }, t('noLimit'))]
        : limits.map((l) => h('p', {}, `${t('limitOf')}: ${said(l.element)}: ${forceBand({ low: l.limit_N, high: l.limit_N })}, ${t('marginOf', margin(l.margin))} (${this.app.sourceTitle(l.source)}${l.basis === 'memory' ? `, ${said('from memory')}` : ''})`))),
      ...this.losses((e) => e.element === body.name || [' on ', ' at '].some((word) => e.element.includes(`${word}${body.name}`) && new RegExp(`${body.name.replace(/[^\\w-]/g, '\\$&')}(?: does not \\w+)?$`).test(e.element)))];
  }
}
