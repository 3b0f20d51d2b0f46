// SPDX-License-Identifier: MIT
// What does it cost? The pull's angle, the load, the edge and each bend, changed one by one on a copy of the scene.
import type { Check, Glance, Key } from './answers';
import type { App } from './app';
import { Ask, type Tree, type TreeMap } from './core';
import { button, freshId, h, replace, setText, Slots } from './dom';
import { Drawing } from './drawing';
import { bodyName, itemName, t } from './msg';
import { fromQuantity, isMap, quantity, valueAt, withValue, type Place } from './scene';
import { Sight } from './sight';
import { thumb } from './thumb';
import { force, forceBand, inUnits, plain, shown } from './units';

interface Knob { name: string; place: Place; key: Key | undefined; unit: string; from: number; to: number; step: number; base: number; value: number; likelyOnly: boolean }

export class WhatIf {
  readonly element = h('details', { class: 'more', id: 'whatif' });
  private tree: TreeMap | null = null;
  private base: Check | null = null;
  private knobs: Knob[] = [];
  private readonly slots = new Slots();
  private readonly table = h('div', { class: 'compare', 'aria-live': 'off' });
  private readonly tableSight = new Sight(this.table);
  private readonly view = h('div', { class: 'paper', hidden: true });
  private readonly seen = new Drawing();  // from above

  /// @param facts whether what is told of the rig is in sight  @param show tells it  @param figure the same of its figure  @param draw shows that
  constructor(private readonly app: App, private readonly facts: Sight, private readonly show: (check: Glance, base: Check | null) => void,
    private readonly figure: Sight, private readonly draw: (svg: string | null) => void) {}

  start(tree: TreeMap, check: Check): void {
    this.tree = tree;
    this.base = check;
    this.knobs = this.findKnobs(tree, check);
    const open = this.element.open;
    replace(this.element, h('summary', {}, t('whatIf')), this.table, ...this.knobs.map((knob) => this.control(knob)),
      button(t('putBack'), () => this.putBack(), { class: 'wide', id: 'put-back' }), this.view);
    this.element.open = open;
    this.tableSight.show(() => this.compare(check, false), true);
    this.view.hidden = true;
  }

  private handPlace(tree: TreeMap): Place | null {
    const ropes = valueAt(tree, ['rig', 'ropes']);
    for (const [r, rope] of (Array.isArray(ropes) ? ropes : []).entries()) {
      const path = isMap(rope) && Array.isArray(rope['path']) ? rope['path'] : [];
      for (const [s, station] of path.entries()) {
        if (isMap(station) && station['hand'] !== undefined) {
          return ['rig', 'ropes', r, 'path', s, 'angle_deg'];
        }
      }
    }
    return null;
  }

  private findKnobs(tree: TreeMap, check: Check): Knob[] {
    const knobs: Knob[] = [];
    const put = (name: string, place: Place, unit: string, from: number, to: number, step: number, preset: number): void => {
      const said = quantity(valueAt(tree, place))?.likely ?? preset;
      const path = place.map((p) => (typeof p === 'number' ? '[]' : p)).join('.').replace(/\.\[\]/g, '[]');
      knobs.push({ name, place, key: this.app.keys.find((k) => k.path === path), unit, from: Math.min(from, said), to: Math.max(to, said), step, base: said, value: said, likelyOnly: false });
    };
    const hand = this.handPlace(tree);
    if (hand !== null) {
      put(t('pullAngle'), hand, 'deg', 0, 90, 1, 0);
    }
    put(t('loadMass'), ['load', 'mass_kg'], 'kg', 40, 160, 1, 85);
    const surface = this.app.item(String(valueAt(tree, ['lip', 'surface']) ?? 'firn'))?.figures['friction'];
    put(t('lipFriction'), ['lip', 'friction'], '1', 0, 1, 0.01, surface?.likely ?? 0.3);
    put(t('lipTurn'), ['lip', 'turn_deg'], 'deg', 0, 120, 5, 80);
    const ropes = valueAt(tree, ['rig', 'ropes']);
    let bend = 0;
    const bends = check.raise.contacts;
    for (const [r, rope] of (Array.isArray(ropes) ? ropes : []).entries()) {
      const path = isMap(rope) && Array.isArray(rope['path']) ? rope['path'] : [];
      for (const [s, station] of path.entries()) {
        if (!isMap(station)) {
          continue;
        }
        if (station['run'] !== undefined || station['edge'] !== undefined) {
          const contact = bends[bend];
          bend += 1;
          if (station['run'] !== undefined) {
            put(t('bendAt', itemName(String(station['on'])), bodyName(String(station['run']))), ['rig', 'ropes', r, 'path', s, 'efficiency'], '1', 0.2, 1, 0.01,
              contact?.efficiency.likely ?? 0.5);
          }
        }
      }
    }
    return knobs;
  }

  private control(knob: Knob): HTMLElement {
    const id = freshId('knob');
    const u = shown(knob.unit);
    const said = h('span', { class: 'steady' });
    const text = (): string => `${plain(knob.value / u.factor, u.unit)}${u.unit === '' || u.unit === '°' ? '' : '\u00A0'}${u.unit}`;
    const update = (): void => {
      setText(said, text());
      slider.setAttribute('aria-valuetext', text());
    };
    const take = (value: number): void => {
      knob.value = Math.min(Math.max(Number(value.toPrecision(6)), knob.from), knob.to);
      slider.value = String(knob.value);
      update();
      this.workSoon();
    };
    const slider: HTMLInputElement = thumb({ id, min: knob.from, max: knob.to, step: knob.step, 'data-place': knob.place.join('.') }, take);
    slider.value = String(knob.value);
    update();
    return h('div', { class: 'field number' }, h('div', { class: 'row' }, h('label', { for: id }, knob.name), h('output', { for: id, 'aria-live': 'off' }, said)),
      h('div', { class: 'row slide' }, button('−', () => take(knob.value - knob.step), { 'aria-label': `${t('less')}: ${knob.name}` }), h('div', { class: 'track' }, slider),
        button('+', () => take(knob.value + knob.step), { 'aria-label': `${t('moreOf')}: ${knob.name}` })));
  }

  private moved(): boolean {
    return this.knobs.some((knob) => knob.value !== knob.base);
  }

  /// The scene with every knob that was moved: the value shifts, its range keeps its width where it had one.
  private varied(): TreeMap {
    let tree: Tree = this.tree ?? {};
    for (const knob of this.knobs) {
      if (knob.value === knob.base) {
        continue;
      }
      const old = quantity(valueAt(tree, knob.place));
      const by = knob.value - (old?.likely ?? knob.value);
      const { key } = knob;
      const clamp = (value: number): number => Math.min(Math.max(value, key?.lo ?? value), key?.hi ?? value);
      tree = withValue(tree, knob.place, old === null ? knob.value : fromQuantity({ low: clamp(old.low + by), likely: clamp(knob.value), high: clamp(old.high + by), spread: old.spread }));
      if (knob.place[knob.place.length - 1] === 'efficiency') {
        tree = withValue(tree, [...knob.place.slice(0, -1), 'efficiency_range'], undefined);
      }
    }
    return tree as TreeMap;
  }

  /// Numbers in one frame, the figure in the next: each fits a frame, both together may not. Of several moves only the newest counts.
  private workSoon(): void {
    this.due = true;
    this.askFrame();
  }
  private frame = 0;
  private due = false;                            // knobs have moved since the numbers were worked out
  private later: (() => void) | null = null;  // the figure of the numbers that are shown

  private askFrame(): void {
    if (this.frame === 0) {
      this.frame = requestAnimationFrame(() => {
        this.frame = 0;
        const draw = this.later;
        this.later = null;
        if (draw !== null) {
          draw();
        } else {
          this.due = false;
          this.work();
        }
        if (this.due || this.later !== null) {
          this.askFrame();
        }
      });
    }
  }

  private work(): void {
    if (this.tree === null || this.base === null) {
      return;
    }
    const moved = this.moved();  // or back where it was, perhaps in the middle of a slide: the controls stay
    const tree = moved ? this.varied() : this.tree;
    const { base, facts } = this;
    const glance = (timed: boolean): Glance | null => (moved ? this.app.glanceOf(tree, timed) : base);
    const check = glance(facts.seen);
    if (check === null) {
      return;
    }
    const whole = facts.seen ? check : null;
    facts.show(() => {
      const told = whole ?? glance(true);
      if (told !== null) {
        this.show(told, moved ? base : null);
      }
    });
    this.tableSight.show(() => this.compare(check, true));
    const draw = (): void => {
      this.figure.show(() => this.draw(this.app.askOf(tree, Ask.section)));
      this.drawView(tree);
    };
    if (this.figure.seen || this.aside() !== null) {
      this.later = draw;
    } else {
      draw();  // out of sight: no frame for it
    }
  }

  /// How far off the line the pull goes.
  private aside(): number | null {
    const angle = this.knobs[0];
    return angle !== undefined && angle.value !== 0 && angle.place.includes('angle_deg') ? angle.value : null;
  }

  /// From above, while the pull goes off sideways.
  private drawView(tree: TreeMap): void {
    const angle = this.moved() ? this.aside() : null;
    const svg = angle === null ? null : this.app.askOf(tree, Ask.planView, angle);
    const hidden = svg === null || !this.seen.show(svg);
    if (hidden !== this.view.hidden) {
      this.view.hidden = hidden;
    }
    if (!hidden && this.seen.element?.parentNode !== this.view) {
      replace(this.view, h('h3', {}, t('planView')), this.seen.element);
    }
  }

  private putBack(): void {
    cancelAnimationFrame(this.frame);
    this.frame = 0;
    this.due = false;
    this.later = null;
    if (this.tree !== null && this.base !== null) {
      const tree = this.tree;
      const base = this.base;
      this.start(tree, base);
      this.facts.show(() => this.show(base, null));
      this.figure.show(() => this.draw(this.app.askOf(tree, Ask.section)));
    }
  }

  private compare(check: Glance, sliding: boolean): void {
    const base = this.base;
    if (base === null) {
      return;
    }
    const hand = (c: Glance): number | null => c.raise.hand_force_N;
    const anchor = (c: Glance): number | null => c.raise.on_anchor_N.likely ?? null;
    const change = (a: number | null, b: number | null): string =>
      a === null || b === null || a === 0 ? '?' : `${b >= a ? '+' : '−'}${Math.abs((b / a - 1) * 100).toFixed(0)} %`;
    const rows = [
      [t('pull'), force(hand(base)), check.outcome === 'solved' ? forceBand({ ...check.raise.hand_force_range_N, likely: hand(check) }) : inUnits(check.why), change(hand(base), hand(check))],
      [t('onAnchor'), force(anchor(base)), forceBand(check.raise.on_anchor_N), change(anchor(base), anchor(check))],
    ];
    this.slots.show(this.table, t('before'), rows.flat(), (slot) => [h('table', {},
      h('thead', {}, h('tr', {}, h('td', {}), h('th', { scope: 'col' }, t('before')), h('th', { scope: 'col' }, t('now')), h('th', { scope: 'col' }, t('change')))),
      h('tbody', {}, ...rows.map(() => h('tr', {}, h('th', { scope: 'row' }, slot()), ...[0, 1, 2].map(() => h('td', {}, h('div', {}, slot())))))))], sliding);
  }
}
