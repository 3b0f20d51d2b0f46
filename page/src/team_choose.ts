// SPDX-License-Identifier: MIT
// Ways to rope up, compared in the worker: how far it is, a way to stop it, then the core's picture, its recommendation and reasons.
import { button, figure, h, replace } from './dom';
import { said, saidAccepted, saidTrouble, t } from './msg';
import { of100, range100 } from './team_answer';
import type { TeamNews } from './team_run';
import { inUnits, length, type Band } from './units';

interface Design {
  people: number; rope: string; spacing_m: number; knots: number; knot_first_m?: number; knot_apart_m?: number;
  nobody_else_in: number | null; nobody_else_in_range: Band; beyond_loop_m: number | null; raise_possible: boolean;
}
interface Designs { samples: number; best: number; why: string; designs: Design[] }

/// Some seconds on a phone; five times as many falls for who has the time.
const WAYS = 100;
const FALLS = 200;
const LONGER = 5;
const ROWS = 6;

/// The best of each team size, rope and number of knots, best first, as in the terminal.
export function bestOf(designs: Design[]): Design[] {
  const better = (a: Design, b: Design): number => Number(b.raise_possible) - Number(a.raise_possible) || (b.nobody_else_in ?? 0) - (a.nobody_else_in ?? 0);
  const seen = new Set<string>();
  return [...designs].sort(better).filter((d) => {
    const kind = JSON.stringify([d.people, d.rope, d.knots]);
    return !seen.has(kind) && seen.add(kind) !== undefined;
  }).slice(0, ROWS);
}

/// What holds nobody says so: a row of the table is no advice.
function heldWords(d: Design): string {
  const held = `${of100(d.nobody_else_in)} (${range100(d.nobody_else_in_range)})`;
  return d.nobody_else_in === 0 ? t('teamNobody', held) : held;
}

/// Too short is said in words, not as a length below nought.
function loopWords(beyond: number | null): string {
  return beyond !== null && beyond < 0 ? t('teamShortBy', length(-beyond)) : length(beyond);
}

interface Host { ask(designs: number, falls: number): void; cancel(): void; take(people: number, apart: number, rope: string, knots: { [key: string]: number } | null): void }

export class Choose {
  readonly element = h('section', { class: 'callout choose', 'aria-labelledby': 'choose-title' });
  private readonly body = h('div', {});
  private readonly bar = h('progress', { max: 1, 'aria-label': t('teamCompare') });
  private news: TeamNews | null = null;
  private falls = FALLS;
  private running = false;

  constructor(private readonly host: Host) {}

  build(): void {
    replace(this.element, h('h2', { id: 'choose-title' }, t('teamCompare')), h('p', { class: 'help' }, t('teamCompareHelp')), this.body);
    this.render();
  }

  /// Another team or scene: what was found is no longer its answer.
  forget(): void {
    if (this.running) {
      this.host.cancel();
    }
    this.running = false;
    this.news = null;
    this.render();
  }

  hear(news: TeamNews): void {
    if (news.kind === 'progress') {
      this.bar.value = news.part;
      this.bar.textContent = `${Math.round(news.part * 100)} %`;
    } else {
      this.running = false;
      this.news = news;
      this.render();
      document.getElementById('choose-result')?.focus();
    }
  }

  private go(falls: number): void {
    this.falls = falls;
    this.running = true;
    this.bar.value = 0;
    this.render();
    document.getElementById('choose-cancel')?.focus();
    this.host.ask(WAYS, falls);
  }

  private render(): void {
    if (this.running) {
      replace(this.body, h('p', { role: 'status' }, t('searching')), this.bar, button(t('teamCancel'), () => { this.forget(); document.getElementById('choose-go')?.focus(); }, { class: 'wide', id: 'choose-cancel' }));
      return;
    }
    const text = this.news?.text ?? null;
    const diag = this.news?.diag ?? null;
    replace(this.body, diag === null ? null : h('p', { class: 'trouble', role: 'alert' }, h('span', {}, `${saidTrouble(diag.message, diag.accepted)}; `), t('accepted', saidAccepted(diag.accepted))),
      ...(text === null ? [button(t('teamGo'), () => this.go(FALLS), { class: 'wide main', id: 'choose-go' })] : this.result(JSON.parse(text) as Designs)));
  }

  private result(found: Designs): (Node | null)[] {
    const drawing = this.news?.figure === null || this.news === null ? null : figure(this.news.figure ?? '');
    const best = found.designs[found.best];
    const error = Math.ceil(98 / Math.sqrt(found.samples));  // 1.96 times the widest standard deviation of a share, in hundredths
    return [
      h('div', { id: 'choose-result', tabindex: -1 },
        best === undefined ? null : h('h3', {}, t('teamBest', best.people, length(best.spacing_m), best.knots)),
        h('p', {}, inUnits(found.why)),
        best === undefined ? null : this.takeButton(best, 'choose-take', t('teamTake'))),
      h('p', { class: 'help' }, t('teamCompared', found.designs.length, found.samples, error)),
      drawing === null ? null : h('div', { class: 'paper' }, drawing),
      this.table(bestOf(found.designs)),
      h('div', { class: 'row wrap' }, this.falls === FALLS ? button(t('teamLonger', FALLS * LONGER), () => this.go(FALLS * LONGER), { id: 'choose-longer', class: 'wide' }) : null),
    ];
  }

  private takeButton(d: Design, id: string, label: string): HTMLElement {
    return button(label, () => this.host.take(d.people, d.spacing_m, d.rope, d.knots === 0 ? null : { count: d.knots, first_m: d.knot_first_m ?? 3, apart_m: d.knot_apart_m ?? 1.5 }), { id, class: 'wide' });
  }

  private table(rows: Design[]): HTMLElement {
    const head = [t('teamPeople'), t('teamApart'), t('teamKnotsShort'), t('teamHeld'), t('teamBeyond'), t('teamRaise')];
    return h('div', { class: 'scroll', tabindex: 0, role: 'region', 'aria-label': t('teamBestRows') }, h('table', { class: 'stack' }, h('caption', {}, t('teamBestRows')),
      h('thead', {}, h('tr', {}, ...head.map((name) => h('th', { scope: 'col' }, name)))),
      h('tbody', {}, ...rows.map((d) => h('tr', {}, ...[`${d.people} (${said(d.rope)})`, length(d.spacing_m), String(d.knots), heldWords(d), loopWords(d.beyond_loop_m), d.raise_possible ? '✓' : '✕'].map((cell, i) =>
        h(i === 0 ? 'th' : 'td', { class: 'num', scope: i === 0 ? 'row' : null, 'data-name': head[i] ?? '' }, cell)))))));
  }
}
