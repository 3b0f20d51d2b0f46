// SPDX-License-Identifier: MIT
// The fall to look at: the core's own section with everyone where they are at that moment, played, slid or stepped through.
import type { App } from './app';
import { Ask, type TreeMap } from './core';
import { button, figure, h, replace, setText } from './dom';
import { t } from './msg';
import { thumb } from './thumb';

const STEPS = 200;  // of the slider
const SLOW = 2;     // played at half its speed: a fall is over in a few seconds

export class Fall {
  readonly element = h('section', { class: 'fall', 'aria-label': t('teamSee') });
  private readonly paper = h('div', { class: 'paper', id: 'team-figure' });
  private slider = h('input', { type: 'range' });
  private playButton = button('', () => undefined);
  private readonly time = h('output', { class: 'num', id: 'team-time', 'aria-live': 'off' });
  private tree: TreeMap | null = null;
  private end = 0;    // [s]
  private part = 1;   // of it; at first everyone at rest
  private frame = 0;

  constructor(private readonly app: App) {}

  build(): void {
    this.stop();
    this.element.setAttribute('aria-label', t('teamSee'));
    this.slider = thumb({ id: 'team-slider', min: 0, max: STEPS, step: 1 }, (value) => { this.stop(); this.moveTo(value / STEPS); });
    this.playButton = button(t('teamPlay'), () => this.play(), { id: 'team-play', class: 'main' });
    const step = (by: number): void => {
      this.stop();
      this.moveTo(this.part + by / Math.max(this.end, 0.1));
    };
    replace(this.element, h('div', { class: 'row' }, h('h3', {}, h('label', { for: 'team-slider' }, t('teamSee'))), this.time), this.paper, this.slider,
      h('div', { class: 'row' }, button('◂', () => step(-0.1), { 'aria-label': t('teamStepBack'), id: 'team-step-back' }), this.playButton,
        button('▸', () => step(0.1), { 'aria-label': t('teamStepOn'), id: 'team-step-on' })),
      h('p', { class: 'help' }, t('teamSeeHelp')));
  }

  /// @param end [s] when the fall is over
  show(tree: TreeMap, end: number): void {
    this.stop();
    this.tree = tree;
    this.end = end;
    this.moveTo(this.part);
  }

  stop(): void {
    if (this.frame !== 0) {
      cancelAnimationFrame(this.frame);
      this.frame = 0;
    }
    this.playButton.textContent = t('teamPlay');
  }

  private moveTo(part: number): void {
    if (this.tree === null) {
      return;
    }
    this.part = Math.min(Math.max(part, 0), 1);
    const seconds = this.part * this.end;
    const svg = this.app.askOf(this.tree, Ask.teamMoment, seconds);
    const drawing = svg === null ? null : figure(svg);
    if (drawing !== null) {
      replace(this.paper, drawing);
    }
    const words = Array.from(drawing?.querySelectorAll('text') ?? []).map((word) => word.textContent).filter((word) => word?.includes(':')).join('; ');
    setText(this.time, `${seconds.toFixed(1)} / ${this.end.toFixed(1)}\u00A0s`);
    this.slider.value = String(Math.round(this.part * STEPS));
    this.slider.setAttribute('aria-valuetext', `${seconds.toFixed(1)} s. ${words}`);
  }

  private play(): void {
    if (this.frame !== 0) {
      this.stop();
      return;
    }
    const from = this.part >= 1 ? 0 : this.part;
    if (matchMedia('(prefers-reduced-motion: reduce)').matches) {
      this.moveTo(this.part >= 1 ? 0 : 1);  // nothing moves by itself: to the end, and back to the beginning
      return;
    }
    const begin = performance.now();
    this.playButton.textContent = t('teamPause');
    const tick = (now: number): void => {
      this.moveTo(from + Math.max(now - begin, 0) / 1000 / SLOW / Math.max(this.end, 0.1));
      if (this.part >= 1) {
        this.stop();
      } else {
        this.frame = requestAnimationFrame(tick);
      }
    };
    this.frame = requestAnimationFrame(tick);
  }
}
