// SPDX-License-Identifier: MIT
// Before the trip: the rope team. The likely fall is worked out at once; the worker counts over the ranges, asks for the raises and
// draws the trip sheet, and what it says is shown as it comes.
import type { App } from './app';
import { Ask, Events, type Diag, type TreeMap } from './core';
import { add, button, figure, h, replace } from './dom';
import { getLanguage, saidAccepted, saidTrouble, t } from './msg';
import { badge } from './rigs';
import { quantity, valueAt } from './scene';
import { answerParts, fallWords, raiseParts, shortWords, teamVerdict, type Chance, type Raises, type Team } from './team_answer';
import { Choose } from './team_choose';
import { Fall } from './team_fall';
import { TeamForm } from './team_form';
import { COUNTS, type TeamNews } from './team_run';
import { TeamWork } from './team_work';
import { isImperial } from './units';

const ON = 1.3;  // letters: lines of one text stand 1.25 apart, another text begins 1.35 below

/// The words of a drawn sheet, a line that goes on put together again.
function sheetLines(drawing: SVGSVGElement): HTMLElement[] {
  const of = (text: Element, name: string): number => Number(text.getAttribute(name) ?? 0);
  const parts: { last: Element; bold: boolean; words: string }[] = [];
  for (const text of Array.from(drawing.querySelectorAll('text'))) {
    const now = parts[parts.length - 1];
    const down = now === undefined ? 0 : of(text, 'y') - of(now.last, 'y');
    const bold = text.hasAttribute('font-weight');
    const goesOn = now !== undefined && now.bold === bold && of(text, 'font-size') === of(now.last, 'font-size') && of(text, 'x') === of(now.last, 'x') && down > 0 && down <= ON * of(text, 'font-size');
    if (goesOn) {
      now.words += ` ${text.textContent ?? ''}`;
      now.last = text;
    } else {
      parts.push({ last: text, bold, words: text.textContent ?? '' });
    }
  }
  return parts.map(({ bold, words }) => h('p', { class: bold ? 'voice-strong' : null }, words));
}

export class TeamView {
  private readonly questions = h('div', {});
  private readonly answer = h('div', { class: 'answer', id: 'team-answer', tabindex: -1 });
  private readonly raises = h('div', { id: 'team-raises' });
  private readonly paths = h('div', { class: 'paper', id: 'team-paths' });
  private readonly sheet = h('div', { class: 'paper', id: 'team-sheet' });
  private readonly lines = h('div', { id: 'team-lines' });  // the sheet's own words, for a screen too small for its picture
  private readonly results = h('div', {});
  private readonly form: TeamForm;
  private readonly fall: Fall;
  private readonly choose: Choose;
  private readonly work: TeamWork;
  private shown: TreeMap | null = null;
  private look = '';
  private team: Team | null = null;
  private diag: Diag | null = null;
  private chance: Chance | null = null;
  private counted = false;
  private sheetText: string | null = null;

  /// @param told called when the answer in one line has changed
  constructor(private readonly app: App, private readonly root: HTMLElement, private readonly told: () => void) {
    this.form = new TeamForm(app, this.questions);
    this.fall = new Fall(app);
    this.work = new TeamWork(() => app.module, (news) => this.hear(news));
    this.choose = new Choose({
      ask: (designs, falls) => this.work.ask('choose', this.events(), isImperial(), designs, falls),
      cancel: () => this.work.cancel('choose'),
      take: (people, apart, rope, knots) => { this.form.take(people, apart, rope, knots); this.toAnswer(); },
    });
  }

  leave(): void {
    this.fall.stop();
  }

  render(): void {
    const look = `${getLanguage()} ${isImperial()}`;
    if (this.look !== look) {
      this.look = look;
      this.shown = null;
      this.build();
    }
    if (this.shown !== this.form.tree()) {
      this.form.update();
      this.compute();
    }
  }

  private build(): void {
    this.form.build();
    this.fall.build();
    this.choose.build();
    replace(this.root, h('h2', {}, t('teamTitle')), this.questions, h('h2', {}, t('teamHolds')), this.answer, this.results);
    replace(this.results, this.fall.element,
      h('details', { class: 'more' }, h('summary', {}, t('teamPaths')), this.paths),
      h('h2', {}, t('teamLeft')), this.raises, this.choose.element,
      h('details', { class: 'more', id: 'team-sheet-more' }, h('summary', {}, t('teamSheet')), this.lines, this.sheet),
      button(t('teamPrint'), () => window.print(), { class: 'wide', id: 'team-print' }));
  }

  private events(): Events {
    const events = new Events();
    events.tell(this.form.tree());
    return events;
  }

  private knots(): number {
    return quantity(valueAt(this.form.tree(), ['team', 'knots', 'count']))?.likely ?? 0;
  }

  private compute(): void {
    const tree = this.form.tree();
    this.shown = tree;
    this.team = null;
    this.chance = null;
    this.counted = false;
    this.sheetText = null;
    replace(this.sheet);  // the sheet of another team is none
    replace(this.lines);
    this.diag = this.app.read(tree);
    this.choose.forget();
    replace(this.raises, ...raiseParts(null));
    if (this.diag === null) {
      const text = this.app.core.ask(Ask.team, 0);
      this.diag = this.app.core.diag;
      this.team = text === null ? null : (JSON.parse(text) as Team);
    }
    this.results.hidden = this.team === null;
    if (this.team === null) {
      this.work.cancel('count');
      this.form.showTrouble(this.diag);
    } else {
      this.fall.show(tree, this.team.time_s ?? 1);
      this.drawPaths(tree);
      this.work.ask('count', this.events(), isImperial());
    }
    this.fill();
  }

  private drawPaths(tree: TreeMap): void {
    const svg = this.app.askOf(tree, Ask.teamPaths, 0);
    const drawing = svg === null ? null : figure(svg);
    replace(this.paths, drawing);
  }

  private hear(news: TeamNews): void {
    const { kind, text } = news;
    if (kind === 'progress' || kind === 'designs') {
      this.choose.hear(news);
    } else if (text === null) {
      this.counted = kind === 'count' ? false : this.counted;
    } else if (kind === 'count') {
      this.chance = (JSON.parse(text) as Team).chance;
      this.counted = news.part === 1;
      this.fill();
    } else if (kind === 'raises') {
      replace(this.raises, ...raiseParts(JSON.parse(text) as Raises));
    } else {
      this.sheetText = text;
      const drawing = figure(text);
      replace(this.sheet, drawing);
      replace(this.lines, ...(drawing === null ? [] : sheetLines(drawing)));
    }
  }

  private fill(): void {
    const { team, diag } = this;
    replace(this.answer, ...(team !== null ? answerParts(team, this.chance, this.counted, this.knots())
      : [h('p', { class: 'trouble', role: 'alert' }, h('b', {}, t('teamCannot')), ' ', h('span', {}, diag === null ? '' : saidTrouble(diag.message, diag.accepted)), diag === null || diag.accepted === '' ? '' : `; ${t('accepted', saidAccepted(diag.accepted))}`)]));
    this.told();
  }

  // ------------------------------------------------------------------------------------------------------------------ the page

  /// The answer in one line, always in sight.
  fillBar(bar: HTMLElement): void {
    const { team } = this;
    bar.classList.toggle('stale', team !== null && !this.counted);
    if (team === null) {
      replace(bar, h('span', {}, t('teamCannot')));
      return;
    }
    const fall = fallWords(team, this.chance);
    replace(bar, badge(teamVerdict(team, this.chance, this.counted)), h('span', { class: 'short' }, this.chance === null ? (this.counted ? t('teamExactShort') : t('searching')) : shortWords(this.chance)),
      h('span', { class: 'best' }, `${t('teamFallOf')}: ${fall}`));
  }

  toAnswer(): void {
    this.answer.scrollIntoView({ block: 'start' });
    this.answer.focus({ preventScroll: true });
  }

  /// The trip sheet, for paper.
  fillCard(card: HTMLElement): void {
    const tree = this.form.tree();
    const svg = this.team === null ? null : this.sheetText ?? this.app.askOf(tree, Ask.teamSheet, COUNTS[COUNTS.length - 1]);
    const drawing = svg === null ? null : figure(svg);
    replace(card);
    add(card, h('div', { class: 'page team' }, h('p', { class: 'caution' }, t('caution')), drawing ?? h('p', {}, t('teamCannot'))));
  }
}
