// SPDX-License-Identifier: MIT
// The hand is pulled back: the load rises, blocks travel, the stroke ends, the blocks go forward again. The figure of every
// moment is the core's own; places follow from the speeds that it found.
import type { Check } from './answers';
import type { App } from './app';
import { Ask, type TreeMap } from './core';
import { button, h, replace } from './dom';
import { t } from './msg';
import { quantity, valueAt } from './scene';
import { fact } from './rigs';
import { length } from './units';

const STROKE_MS = 2600;  // of the animation: fast enough to watch, slow enough to see which block moves

export class Haul {
  readonly element = h('section', { class: 'haul', 'aria-label': t('handBack') });
  private tree: TreeMap | null = null;
  private check: Check | null = null;
  private depth = 0;
  private before = 0;   // [m] risen in earlier strokes
  private now = 0;      // [m] in this one
  private stroke = 1;
  private frame = 0;
  private moved = false;
  private slider = h('input', { type: 'range', min: 0, max: 1000, step: 1 });
  private readonly state = h('dl', { class: 'facts big' });
  private readonly say = h('p', { class: 'hint', role: 'status' });
  private playButton = button('', () => this.play());

  constructor(private readonly app: App, paper: HTMLElement, private readonly draw: (svg: string | null) => void) {
    this.listenDrag(paper);
  }

  start(tree: TreeMap, check: Check): void {
    this.stop();
    this.tree = tree;
    this.check = check;
    this.depth = quantity(valueAt(tree, ['slot', 'depth_m']))?.likely ?? 0;
    this.before = this.now = 0;
    this.stroke = 1;
    const label = h('label', { for: 'hand-slider' }, t('handBack'));
    this.slider = h('input', { type: 'range', id: 'hand-slider', min: 0, max: 1000, step: 1, value: 0, input: () => { this.stop(); this.moveTo(Number(this.slider.value) / 1000 * this.most()); } });
    this.playButton = button(t('play'), () => this.play(), { id: 'play' });
    const solved = check.outcome === 'solved' && check.throw_m > 0;
    this.element.hidden = !solved;
    replace(this.element, h('h3', {}, label), h('p', { class: 'help' }, t('dragHint')), this.slider, this.state,
      h('div', { class: 'row wrap' }, this.playButton, button(t('reset'), () => this.reset(), { id: 'reset' }), button(t('again'), () => this.restart())), this.say);
    if (solved) {
      this.tell();
    }
  }

  stop(): void {
    if (this.frame !== 0) {
      cancelAnimationFrame(this.frame);
      this.frame = 0;
      this.playButton.textContent = t('play');
    }
  }

  /// The most that the load can rise in the stroke that is begun.
  private most(): number {
    return Math.min(this.check?.throw_m ?? 0, Math.max(this.depth - this.before, 0));
  }

  private moveTo(rise: number): void {
    this.now = Math.min(Math.max(rise, 0), this.most());
    if (this.tree !== null) {
      this.draw(this.app.askOf(this.tree, Ask.moved, this.before, this.now));
    }
    this.tell();
  }

  private handPerRise(): number {
    return this.check?.ideal_advantage ?? 1;
  }

  /// Rope that has come through the capture: it lengthens the slack of whatever backs it up.
  private slackPerRise(): number {
    const captured = this.check?.raise.contacts.find((c) => c.capture);
    return Math.abs(captured?.rate ?? 1);
  }

  private tell(): void {
    const check = this.check;
    if (check === null) {
      return;
    }
    const most = this.most();
    this.slider.value = String(most > 0 ? Math.round(this.now / most * 1000) : 0);
    this.slider.setAttribute('aria-valuetext', `${t('pulled')} ${length(this.now * this.handPerRise(), true)}, ${t('risen')} ${length(this.before + this.now, true)}`);
    const togo = Math.max(this.depth - this.before - this.now, 0);
    replace(this.state,
      fact(t('pulled'), length(this.now * this.handPerRise(), true)),
      fact(t('risen'), length(this.before + this.now, true)),
      fact(t('toGo'), length(togo, true)),
      fact(t('stroke'), `${this.stroke} / ${Math.max(check.strokes, 1)}`),
      fact(t('slack'), length(this.now * this.slackPerRise(), true)));
    this.say.textContent = togo < 0.01 ? t('atLip') : this.now >= most - 1e-6 ? `${t('strokeEnds', check.throw_ends)} ${t('resetNow')}` : '';
  }

  private play(): void {
    if (this.frame !== 0) {
      this.stop();
      return;
    }
    if (this.now >= this.most() - 1e-6) {
      this.reset();
    }
    if (matchMedia('(prefers-reduced-motion: reduce)').matches) {
      this.moveTo(this.most());
      return;
    }
    const from = this.now;
    const most = this.most();
    const begin = performance.now();
    this.playButton.textContent = t('stop');
    const tick = (time: number): void => {
      const part = Math.max(time - begin, 0) / STROKE_MS;
      this.moveTo(from + part * most);
      if (this.now < most - 1e-9) {
        this.frame = requestAnimationFrame(tick);
      } else {
        this.stop();
      }
    };
    this.frame = requestAnimationFrame(tick);
  }

  private reset(): void {
    this.stop();
    this.before += this.now;
    this.now = 0;
    this.stroke = Math.min(this.stroke + 1, Math.max(this.check?.strokes ?? 1, 1));
    this.moveTo(0);
  }

  private restart(): void {
    this.stop();
    this.before = 0;
    this.stroke = 1;
    this.moveTo(0);
  }

  // ------------------------------------------------------------------------------------------------------------------- drag

  dragged(): boolean {
    return this.moved;
  }

  /// Sideways on the figure: the hand follows the finger, to the figure's own scale.
  private listenDrag(paper: HTMLElement): void {
    let from = 0;
    let start = 0;
    let metres = 0;
    paper.addEventListener('pointerdown', (event) => {
      this.stop();
      this.moved = false;
      if (paper.classList.contains('large')) {
        return;  // then a finger moves the figure itself
      }
      from = event.clientX;
      start = this.now * this.handPerRise();
      metres = this.metresPerPixel(paper);
    });
    paper.addEventListener('pointermove', (event) => {
      if (metres > 0 && (event.buttons & 1) === 1 && (this.moved || Math.abs(event.clientX - from) > 6)) {
        if (!this.moved) {
          this.moved = true;
          paper.setPointerCapture(event.pointerId);
        }
        const toLip = this.pullsToLip();
        const travel = (event.clientX - from) * metres * (toLip ? -1 : 1);
        this.moveTo((start + travel) / this.handPerRise());
      }
    });
    const end = (): void => {
      metres = 0;
    };
    paper.addEventListener('pointerup', end);
    paper.addEventListener('pointercancel', end);
  }

  private pullsToLip(): boolean {
    const hand = this.check?.raise.strands.find((s) => s.to === 'hand');
    return hand !== undefined && (hand.from === 'station' || hand.from === 'anchor') && !JSON.stringify(this.tree?.['rig']).includes('"toward":"back"');
  }

  private metresPerPixel(paper: HTMLElement): number {
    const place = (body: number): number | null => {
      const line = paper.querySelector(`[data-body="${body}"] line`);
      return line === null ? null : line.getBoundingClientRect().x;
    };
    const at = (name: string): number => this.check?.raise.bodies.find((b) => b.name === name)?.at_m ?? 0;
    const [station, anchor] = [place(1), place(2)];
    const apart = at('anchor') - at('station');
    if (station !== null && anchor !== null && anchor - station > 4 && apart > 0.01) {
      return apart / (anchor - station);
    }
    return at('station') / Math.max(paper.clientWidth / 2, 1);
  }
}
