// SPDX-License-Identifier: MIT
// One number of a scene: slide it, step it, or give exact figures; exact or from-to; back to the default.
import type { Key } from './answers';
import type { Tree } from './core';
import { button, freshId, h, read, setText } from './dom';
import { help, question, t, usual } from './msg';
import { fallback, fromQuantity, quantity, type Quantity } from './scene';
import { thumb } from './thumb';
import { inUnits, plain, shown, typed } from './units';

/// Values in the document's unit.
export interface Slide { from: number; to: number; step: number; start: number }

function clamp(value: number, lo: number, hi: number): number {
  return Math.min(Math.max(value, lo), hi);
}

export class NumberField {
  readonly element: HTMLElement;
  readonly note: HTMLElement = h('p', { class: 'trouble', role: 'alert', hidden: true });
  private readonly slider: HTMLInputElement;
  private readonly from: HTMLInputElement;
  private readonly to: HTMLInputElement;
  private readonly said: HTMLButtonElement;
  private readonly reset: HTMLButtonElement;
  private readonly back: HTMLButtonElement;  // the same, always in sight
  private open: (on: boolean) => void = () => undefined;
  private readonly factor: number;
  private readonly unit: string;
  private readonly trouble = h('p', { class: 'trouble', role: 'alert' });
  private readonly whole: boolean;

  constructor(private readonly key: Key, private readonly slide: Slide, private readonly get: () => Tree | undefined, private readonly set: (value: Tree | undefined) => void,
    private readonly name = question(key.path)) {
    ({ factor: this.factor, unit: this.unit } = shown(key.unit));
    this.whole = key.type === 'integer';
    const id = freshId('number');
    const fineId = freshId('fine');
    this.said = button('', () => this.open(fine.hidden !== false), { class: 'said', 'aria-controls': fineId, 'aria-expanded': 'false' });
    this.slider = thumb({ id, min: slide.from, max: slide.to, step: slide.step }, (value) => this.slideTo(value), () => { const old = this.get(); return () => this.put(old); });
    const field = (label: string, low: boolean): HTMLInputElement => {
      const input: HTMLInputElement = h('input', {
        type: 'text', class: 'number', inputmode: 'decimal', autocomplete: 'off', 'aria-label': `${name}: ${label}`, change: () => this.type(low, input),
      });
      return input;
    };
    this.from = field(t('from'), true);
    this.to = field(t('to'), false);
    this.reset = button(t('useDefault'), () => this.put(undefined), { class: 'small' });
    this.back = button('↺', () => { this.put(undefined); this.said.focus(); }, { class: 'small unsay', 'aria-label': `${t('useDefault')}: ${name}`, title: t('useDefault') });
    const preset = quantity(fallback(key));
    const limits = `${this.show(key.lo)}–${this.show(key.hi)} ${this.unit}`;
    const words = t('defaultIs', preset === null ? (key.required ? '–' : inUnits(usual(key))) : this.words(preset));
    const fine = h('div', { class: 'fine', id: fineId, hidden: true },
      h('p', { class: 'help' }, inUnits(help(key))),
      this.whole ? h('div', { class: 'row' }, this.from) : h('div', { class: 'row' }, h('span', {}, t('from')), this.from, h('span', {}, t('to')), this.to, h('span', {}, this.unit)),
      this.trouble,
      this.whole ? null : h('p', { class: 'help' }, t('rangeHelp')),
      h('div', { class: 'row' }, h('span', { class: 'help' }, `${t('accepted', limits)}; ${words}`), key.required ? null : this.reset));
    this.open = (on: boolean): void => {
      fine.hidden = !on;
      this.said.setAttribute('aria-expanded', String(on));
    };
    this.element = h('div', { class: 'field number', 'data-path': key.path },
      h('div', { class: 'row' }, h('label', { for: id }, name), this.said, key.required ? null : this.back),
      h('div', { class: 'row slide' }, button('−', () => this.step(-1), { 'aria-label': `${t('less')}: ${name}` }), this.slider, button('+', () => this.step(1), { 'aria-label': `${t('moreOf')}: ${name}` })),
      fine, this.note);
    this.update();
  }

  private show(value: number): string {
    return plain(value / this.factor, this.unit);
  }

  private words(q: Quantity): string {
    const gap = this.unit === '' || this.unit === '°' ? '' : '\u00A0';
    return q.low === q.high ? `${this.show(q.low)}${gap}${this.unit}` : `${this.show(q.low)}–${this.show(q.high)}${gap}${this.unit}`;
  }

  /// What holds now: what was said, or the default.
  private now(): { q: Quantity | null; own: boolean } {
    const own = quantity(this.get());
    return own !== null ? { q: own, own: true } : { q: quantity(fallback(this.key)), own: false };
  }

  update(): void {
    const { q, own } = this.now();
    const text = q === null ? t('unknownYet') : own ? this.words(q) : t('defaultIs', this.words(q));
    setText(this.said, text);
    this.said.setAttribute('aria-label', `${text}. ${this.name}: ${t('fine')}`);
    this.slider.value = String(q?.likely ?? this.slide.start);
    this.slider.setAttribute('aria-valuetext', text);
    this.element.classList.toggle('own', own);
    this.reset.hidden = this.back.hidden = !own;
    if (document.activeElement !== this.from) {
      this.from.value = own && q !== null ? read(this.show(q.low)) : '';
      this.from.placeholder = q === null ? '' : read(this.show(q.low));
    }
    if (document.activeElement !== this.to) {
      this.to.value = own && q !== null ? read(this.show(q.high)) : '';
      this.to.placeholder = q === null ? '' : read(this.show(q.high));
    }
  }

  private put(value: Tree | undefined): void {
    setText(this.trouble, '');
    this.set(value);
    this.update();
  }

  /// Moves the value and keeps the width of its range.
  private slideTo(likely: number): void {
    const { q } = this.now();
    const value = clamp(this.whole ? Math.round(likely) : likely, this.key.lo, this.key.hi);
    const below = q === null ? 0 : q.likely - q.low;
    const above = q === null ? 0 : q.high - q.likely;
    this.put(fromQuantity({ low: Math.max(value - below, this.key.lo), likely: value, high: Math.min(value + above, this.key.hi), spread: below + above > 0 }));
  }

  private step(by: number): void {
    const { q } = this.now();
    const at = q?.likely ?? this.slide.start;
    this.slideTo(Number((at + by * this.slide.step).toPrecision(6)));
  }

  private type(low: boolean, input: HTMLInputElement): void {
    if (input.value === '') {
      // Emptied: the other one alone holds; both empty is the default.
      const other = low ? this.to.value : this.from.value;
      this.put(other === '' || this.key.required ? this.key.required ? this.get() : undefined : this.parse(other));
      return;
    }
    const value = this.parse(input.value);
    if (value === null) {
      const typed = input.value;
      this.update();
      setText(this.trouble, t('refused', `${typed} ${this.unit}`));
      return;
    }
    const { q, own } = this.now();
    const exact = this.whole || !own || q === null || q.low === q.high;
    const kept = low ? q?.high ?? value : q?.low ?? value;
    // One figure alone is exact. The second one makes a range.
    const a = low ? value : exact && !own ? value : kept;
    const b = low ? exact ? value : kept : value;
    const [from, to] = [Math.min(a, b), Math.max(a, b)];
    this.put(fromQuantity({ low: from, likely: (from + to) / 2, high: to, spread: from < to }));
    if (a > b) {
      setText(this.trouble, t('turned', `${this.show(from)}–${this.show(to)} ${this.unit}`));
    }
  }

  private parse(text: string): number | null {
    const value = typed(text, { factor: this.factor, unit: this.unit }, this.key.lo, this.key.hi);
    const slack = 1e-9 * Math.max(Math.abs(this.key.lo), Math.abs(this.key.hi));  // what a change of units leaves over
    const within = value >= this.key.lo - slack && value <= this.key.hi + slack && (!this.whole || Number.isInteger(value));
    return within ? clamp(value, this.key.lo, this.key.hi) : null;
  }
}
