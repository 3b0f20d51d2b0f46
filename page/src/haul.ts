// SPDX-License-Identifier: MIT
// The hand is pulled back: the rope stretches, the load rises, blocks travel, the stroke ends; then hands off, knots, and again.
// What happens when is the core's trace; the figure of every moment is its own as well.
import type { Check } from './answers';
import type { App } from './app';
import { Ask, type TreeMap } from './core';
import { button, h, replace, setText, Slots } from './dom';
import { t } from './msg';
import { quantity, valueAt } from './scene';
import { fact } from './rigs';
import { Sight } from './sight';
import { thumb } from './thumb';
import { force, length, minutes } from './units';

const STEPS = 200;      // of the slider: some centimetres each
const TELL_MS = 200;   // of a pull that is played: figures that change faster cannot be read
const REST_MS = 160;   // after which what is dragged stands still, and the names and forces come back
const PLAY_MS = 2600;  // of a pull: fast enough to watch, slow enough to see which block moves

interface Row {
  time_s: number; height_m: number; hand_force_N: number; capture_force_N: number; hand_travel_m: number; phase: string; slack_m: number | null; stroke: number; knots: number;
}
interface Trace { works: boolean; time_s: number; time_range_s: { low: number; high: number }; trace: Row[] }

/// One pull: from a moment of rest, through take-up and haul; then what is done with the hands off.
interface Pull { rows: Row[]; after: Row[]; base: number }  // base: hand travel at the last reset

/// The pulls of a trace, in order.
export function pullsOf(trace: Row[]): Pull[] {
  const pulls: Pull[] = [];
  let base = 0;
  trace.forEach((row, i) => {
    const pulling = row.phase === 'take-up' || row.phase === 'haul';
    const last = pulls[pulls.length - 1];
    const before = trace[i - 1];
    if (pulling && before !== undefined && (last === undefined || last.after.length > 0)) {
      pulls.push({ rows: [before, row], after: [], base });
    } else if (pulling && last !== undefined) {
      last.rows.push(row);
    } else if (last !== undefined) {
      last.after.push(row);
    }
    if (row.phase === 'reset') {
      base = row.hand_travel_m;
    }
  });
  return pulls;
}

/// The state at a hand travel within a pull: between rows everything but the hand's force changes linearly.
export function stateAt(rows: Row[], travel: number): Row {
  let i = 1;
  while (i < rows.length - 1 && (rows[i] as Row).hand_travel_m < travel) {
    i += 1;
  }
  const a = rows[i - 1] as Row;
  const b = rows[i] as Row;
  const width = b.hand_travel_m - a.hand_travel_m;
  const part = width > 0 ? Math.min(Math.max((travel - a.hand_travel_m) / width, 0), 1) : 1;
  const mix = (x: number, y: number): number => x + (y - x) * part;
  return { ...b, time_s: mix(a.time_s, b.time_s), height_m: mix(a.height_m, b.height_m), hand_travel_m: mix(a.hand_travel_m, b.hand_travel_m),
    slack_m: a.slack_m === null || b.slack_m === null ? null : mix(a.slack_m, b.slack_m) };
}

export class Haul {
  readonly element = h('section', { class: 'haul', 'aria-label': t('handBack') });
  /// What the thumb needs, in reach while the figure is looked at.
  readonly bar = h('div', { class: 'thumbs pulls', role: 'group', 'aria-label': t('handBack') });
  private tree: TreeMap | null = null;
  private check: Check | null = null;
  private pulls: Pull[] = [];
  private trace: Trace | null = null;
  private strokes = 1;
  private depth = 0;
  private at = 0;      // which pull
  private travel = 0;  // [m] of the hand since it began
  private frame = 0;
  private moved = false;
  private resting = 0;  // until what moves counts as still
  private slider = h('input', { type: 'range', min: 0, max: STEPS, step: 1 });
  private readonly slots = new Slots();
  private readonly state = h('dl', { class: 'facts big' });
  private readonly say = h('p', { class: 'hint', role: 'status' });
  private readonly stateSight = new Sight(this.state);
  private playButton = button('', () => this.play());
  private resetButton = button('', () => this.rest());

  constructor(private readonly app: App, private readonly paper: HTMLElement, private readonly draw: (svg: string | null) => void) {
    this.listenDrag(paper);
  }

  start(tree: TreeMap, check: Check): void {
    this.stop();
    this.tree = tree;
    this.check = check;
    this.depth = quantity(valueAt(tree, ['slot', 'depth_m']))?.likely ?? 0;
    const text = check.outcome === 'solved' ? this.app.askOf(tree, Ask.haul) : null;
    const trace = text === null ? null : (JSON.parse(text) as Trace);
    this.trace = trace;
    this.pulls = trace !== null && trace.works ? pullsOf(trace.trace) : [];
    this.strokes = this.pulls.reduce((most, p) => Math.max(most, ...p.rows.map((r) => r.stroke)), 1);
    this.at = this.travel = 0;
    this.slider = thumb({ id: 'hand-slider', min: 0, max: STEPS, step: 1, value: 0, 'aria-label': t('handBack') }, (value) => { this.stop(); this.uncover(); this.moveTo(value / STEPS * this.most(), true); });
    this.playButton = button(t('play'), () => this.play(), { id: 'play' });
    this.resetButton = button(t('reset'), () => this.rest(), { id: 'reset' });
    this.element.hidden = this.pulls.length === 0;
    this.bar.hidden = this.pulls.length === 0;
    this.element.setAttribute('aria-label', t('handBack'));
    this.bar.setAttribute('aria-label', t('handBack'));
    replace(this.say);
    replace(this.bar, this.say, this.slider, h('div', { class: 'row' }, this.playButton, this.resetButton, button('↺', () => this.restart(), { class: 'again', id: 'again', 'aria-label': t('again'), title: t('again') })));
    replace(this.element, this.state, h('p', { class: 'help' }, t('dragHint')));
    if (this.pulls.length > 0) {
      this.slide();
      this.tell(true);
    }
  }

  /// The raise as it is run through, with stretch, set-back and rests. @return null when it does not work
  whole(): { time_s: number; time_range_s: Trace['time_range_s']; resets: number } | null {
    return this.trace === null || this.pulls.length === 0 ? null : { ...this.trace, resets: this.strokes - 1 };
  }

  stop(): void {
    clearTimeout(this.resting);
    this.resting = 0;
    if (this.frame !== 0) {
      cancelAnimationFrame(this.frame);
      this.frame = 0;
      this.playButton.textContent = t('play');
    }
  }

  private pull(): Pull {
    return this.pulls[this.at] as Pull;
  }

  private most(): number {
    const { rows } = this.pull();
    return (rows[rows.length - 1] as Row).hand_travel_m - (rows[0] as Row).hand_travel_m;
  }

  private now(): Row {
    const { rows } = this.pull();
    return stateAt(rows, (rows[0] as Row).hand_travel_m + this.travel);
  }

  /// @param moving whether more is to come at once: names and forces at the strands then are left out
  private moveTo(travel: number, moving = false, tell = true): void {
    if (this.tree === null || this.pulls.length === 0) {
      return;
    }
    this.travel = Math.min(Math.max(travel, 0), this.most());
    const now = this.now();
    const blocks = (now.hand_travel_m - this.pull().base) / (this.check?.ideal_advantage ?? 1);
    const still = !moving || this.ended();
    this.draw(this.app.askOf(this.tree, still ? Ask.moved : Ask.moving, now.height_m, blocks));
    clearTimeout(this.resting);
    this.resting = still ? 0 : window.setTimeout(() => this.moveTo(this.travel), REST_MS);
    if (tell || this.ended()) {
      this.slide();
      this.tell(still);
    }
  }

  private ended(): boolean {
    return this.travel >= this.most() - 1e-9;
  }

  private last(): boolean {
    return this.at === this.pulls.length - 1;
  }

  private slide(): void {
    const most = this.most();
    this.slider.value = String(most > 0 ? Math.round(this.travel / most * STEPS) : 0);
  }

  private tell(atOnce = false): void {
    const now = this.now();
    this.slider.setAttribute('aria-valuetext', `${t('pulled')} ${length(this.travel, true)}, ${t('risen')} ${length(now.height_m, true)}`);
    const rows = [
      [t('pulled'), length(this.travel, true)],
      [t('risen'), length(now.height_m, true)],
      [t('toGo'), length(Math.max(this.depth - now.height_m, 0), true)],
      [t('stroke'), `${now.stroke === 0 ? 1 : now.stroke} / ${this.strokes}`],
      [t('slack'), now.slack_m === null ? t('noBackup') : length(now.slack_m, true)],
      [t('pull'), this.travel > 0 ? force(now.hand_force_N) : '–'],
      [t('knots'), String(this.pull().rows[0]?.knots ?? 0)],
      [t('time'), minutes(now.time_s)],
    ] as const;
    this.stateSight.show(() => this.slots.show(this.state, rows.map(([name]) => name).join('\n'), rows.map(([, value]) => value), (slot) => rows.map(([name]) => fact(name, slot())), !atOnce), atOnce);
    const resets = this.pull().after.some((row) => row.phase === 'reset');
    setText(this.resetButton, t(resets || this.pull().after.length === 0 ? 'reset' : 'handsOff'));
    this.resetButton.setAttribute('aria-disabled', String(this.last()));
    if (this.ended()) {
      this.hint(this.last() ? t('atLip') : resets ? `${t('strokeEnds', this.check?.throw_ends ?? '')}. ${t('resetNow')}` : t('restNow'));
    } else if (this.travel > 0) {
      this.hint(now.phase === 'take-up' ? t('takeUp') : '');
    }
  }

  /// A hint takes room from the figure.
  private hint(text: string): void {
    const before = this.say.textContent;
    setText(this.say, text);
    if (this.say.textContent !== before && this.travel > 0) {
      this.uncover();
    }
  }

  /// What is pulled on must not move behind the slider that pulls it: the figure's lower part, where the strands are, comes up.
  private uncover(): void {
    const [figure, bar] = [this.paper.getBoundingClientRect(), this.bar.getBoundingClientRect()];
    if (figure.bottom > bar.top + 1 && figure.top < bar.top) {
      window.scrollBy(0, figure.bottom - bar.top);
    }
  }

  private play(): void {
    this.uncover();
    if (this.frame !== 0) {
      this.stop();
      this.moveTo(this.travel);
      return;
    }
    if (this.ended()) {
      this.rest();
    }
    if (matchMedia('(prefers-reduced-motion: reduce)').matches) {
      this.moveTo(this.most());
      return;
    }
    const from = this.travel;
    const most = this.most();
    const begin = performance.now();
    this.playButton.textContent = t('stop');
    let told = begin;
    const tick = (time: number): void => {
      const due = time - told >= TELL_MS;
      told = due ? time : told;
      this.moveTo(from + Math.max(time - begin, 0) / PLAY_MS * most, true, due);
      if (this.ended()) {
        this.stop();
      } else {
        this.frame = requestAnimationFrame(tick);
      }
    };
    this.frame = requestAnimationFrame(tick);
  }

  /// Hands off: what the trace says is done then, in words; the next pull begins.
  private rest(): void {
    this.stop();
    if (this.last()) {
      return;
    }
    const { rows, after } = this.pull();
    const end = rows[rows.length - 1] as Row;
    const words = after.map((row) => (row.phase === 'reset' ? t('resetDone', force(row.capture_force_N)) : row.phase === 'knot' ? t('knotDone', row.knots, length(row.slack_m, true)) : row.phase === 'rest' ? t('restDone') : ''));
    const sunk = end.height_m - (after[after.length - 1]?.height_m ?? end.height_m);
    this.at += 1;
    this.moveTo(0);
    this.say.textContent = `${words.filter((w) => w !== '').join(' ')}${sunk > 0.0005 ? ` ${t('sinks', length(sunk, true))}` : ''}`;
  }

  private restart(): void {
    this.stop();
    this.at = 0;
    this.moveTo(0);
    this.say.textContent = '';
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
      if (this.frame !== 0) {
        this.stop();
        this.moveTo(this.travel);
      }
      this.moved = false;
      if (paper.classList.contains('large') || this.pulls.length === 0) {
        return;  // then a finger moves the figure itself
      }
      from = event.clientX;
      start = this.travel;
      metres = this.metresPerPixel(paper);
    });
    paper.addEventListener('pointermove', (event) => {
      if (metres > 0 && (event.buttons & 1) === 1 && (this.moved || Math.abs(event.clientX - from) > 6)) {
        if (!this.moved) {
          this.moved = true;
          paper.setPointerCapture(event.pointerId);
        }
        this.moveTo(start + (event.clientX - from) * metres * (this.pullsToLip() ? -1 : 1), true);
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
