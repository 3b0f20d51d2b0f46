// SPDX-License-Identifier: MIT
// The build sheet, one step at a time, large, for one hand in a glove: the core's own steps, figures and checks. And its pages,
// as they are printed.
import type { App } from './app';
import { Ask, type Tree, type TreeMap } from './core';
import { add, button, figure, h, replace } from './dom';
import { bodyName, getLanguage, itemName, t } from './msg';
import { badge } from './rigs';
import { isMap, quantity } from './scene';
import { length } from './units';

interface Words { voice: string; lead: string; text: string }
interface Block { heading: string; step: number; side: boolean; wide: boolean; words: Words[] }
interface Stage { step: number; kind: string; rope: string; path: number; station: number; grip: number; slack_m: number | null; knots: number; holds: number }
interface Report { refused: boolean; pages: number; findings: { level: string; step: number; text: string }[]; stages: Stage[]; blocks: Block[] }

/// What a body or bend at a place of the path is called.
function stationName(station: Tree | undefined): string {
  if (!isMap(station)) {
    return '?';
  }
  const body = station['tie'] ?? station['run'];
  return typeof body === 'string' ? bodyName(body) : bodyName(station['edge'] !== undefined ? 'lip' : station['hand'] !== undefined ? 'hand' : 'loose');
}

function list(value: Tree | undefined, key: string): Tree[] {
  const found = isMap(value) ? value[key] : undefined;
  return Array.isArray(found) ? found : [];
}

function sayStation(name: string, station: TreeMap): string {
  const slack = quantity(station['slack_m']);
  if (typeof station['tie'] === 'string') {
    const body = bodyName(station['tie']);
    return slack === null || slack.likely === 0 ? t('stepTie', name, body) : t('stepTieSlack', name, body, length(slack.likely));
  }
  if (typeof station['run'] === 'string') {
    return t('stepRun', name, itemName(String(station['on'])), bodyName(station['run']));
  }
  if (station['hand'] !== undefined) {
    return station['toward'] === 'lip' ? t('stepHandLip', name) : t('stepHandBack', name);
  }
  return t('stepLip', name);
}

function sayGrip(grip: TreeMap, ropes: Tree[]): string {
  const rope = ropes.find((r) => isMap(r) && r['name'] === grip['rope']);
  const path = list(rope, 'path');
  const after = typeof grip['after'] === 'number' ? grip['after'] : 0;
  const at = typeof grip['at_m'] === 'number' ? grip['at_m'] : 0;
  const hitch = itemName(String(grip['hitch']));
  const body = String(grip['body']);
  return body === 'station' || body === 'anchor' ? t('stepTended', String(grip['rope']), hitch, bodyName(body))
    : `${t('stepGrip', String(grip['rope']), hitch, length(at), t('betweenOf', stationName(path[after]), stationName(path[after + 1])))} → ${bodyName(body)}`;
}

/// A stage in the page's language, from what it puts in place.
function sayStage(stage: Stage, tree: TreeMap): string {
  const ropes = list(tree['rig'], 'ropes');
  const grip = list(tree['rig'], 'grips')[stage.grip];
  const station = list(ropes[stage.path], 'path')[stage.station];
  switch (stage.kind) {
    case 'first-line': return t('g_firstLine');
    case 'station': return t('g_station');
    case 'edge': return t('g_edge');
    case 'transfer': return t('g_transfer');
    case 'haul': return t('g_haul');
    case 'reset': return t('g_reset');
    case 'slack': return t('g_slack');
    case 'knot': return t('g_knot', stage.knots);
    case 'lip': return t('g_lip');
    case 'over': return t('g_over');
    case 'away': return t('g_away');
    default: return isMap(grip) ? sayGrip(grip, ropes) : isMap(station) ? sayStation(stage.rope, station) : '';
  }
}

export class Sheet {
  private at = 0;
  private key: unknown = null;
  private known: { tree: TreeMap; report: Report | null } | null = null;

  constructor(private readonly app: App, private readonly root: HTMLElement) {}

  private report(tree: TreeMap): Report | null {
    if (this.known?.tree !== tree) {
      const text = this.app.askOf(tree, Ask.sheet);
      this.known = { tree, report: text === null ? null : (JSON.parse(text) as Report) };
    }
    return this.known.report;
  }

  forget(): void {
    this.known = null;
  }

  render(): void {
    const rig = this.app.rig();
    if (this.key !== rig) {
      this.at = 0;
      this.key = rig;
    }
    const checked = this.app.checked_();
    const report = checked === null || checked.check === null ? null : this.report(checked.tree);
    if (checked === null || report === null) {
      replace(this.root, h('p', { class: 'hint' }, checked?.diag?.message ?? t('noRig')));
      return;
    }
    if (report.refused) {
      replace(this.root, h('div', { class: 'callout' }, h('h2', {}, t('refusedSheet')), ...report.findings.map((f) => h('p', { class: `note ${f.level}`, lang: 'en' }, f.text))));
      return;
    }
    const steps = report.blocks;
    this.at = Math.min(this.at, steps.length - 1);
    const move = (by: number, focus: string) => (): void => {
      this.at = Math.min(Math.max(this.at + by, 0), steps.length - 1);
      this.render();
      document.getElementById(focus)?.focus();
    };
    const jump: HTMLSelectElement = h('select', { id: 'jump', lang: 'en', 'aria-label': t('allSteps'), change: () => { this.at = Number(jump.value); this.render(); document.getElementById('jump')?.focus(); } },
      ...steps.map((s, i) => h('option', { value: i, selected: i === this.at }, s.heading)));
    replace(this.root, h('h2', {}, t('steps')),
      this.block(steps[this.at] as Block, report, checked.tree),
      h('div', { class: 'row thumbs' }, button(t('back'), move(-1, 'step-back'), { id: 'step-back', 'aria-disabled': String(this.at === 0) }),
        button(t('next'), move(1, 'step-next'), { id: 'step-next', class: 'main', 'aria-disabled': String(this.at === steps.length - 1) })),
      jump, button(t('print'), () => window.print(), { class: 'wide', id: 'print' }),
      ...report.findings.map((f) => h('p', { class: `note ${f.level}`, lang: 'en' }, f.text)));
  }

  private block(block: Block, report: Report, tree: TreeMap): HTMLElement {
    const foreign = getLanguage() !== 'en';
    const stage = report.stages.find((s) => s.step === block.step);
    const own = foreign && stage !== undefined ? sayStage(stage, tree) : '';
    // A step is led by what to do; a card of words by its heading.
    const main = block.step > 0 ? block.words.findIndex((w) => w.lead === 'Do') : -1;
    const text = own !== '' ? own : block.words[main]?.text ?? block.heading;
    const rest = block.words.filter((_w, i) => own !== '' || i !== main).map((w) => h('p', { class: `voice-${w.voice}`, lang: 'en' }, w.lead === '' || w.lead === 'Do' ? '' : h('b', {}, `${w.lead}: `), w.text));
    const draw = (which: number): Node | null => {
      const index = report.blocks.indexOf(block);
      const svg = this.app.askOf(tree, Ask.sheetFigure, index, which);
      return svg === null ? null : figure(svg);
    };
    return h('div', { class: 'step', role: 'group', 'aria-label': t('stepOf', report.blocks.indexOf(block) + 1, report.blocks.length) },
      h('p', { class: 'stepno' }, t('stepOf', report.blocks.indexOf(block) + 1, report.blocks.length), text === block.heading ? null : h('span', { lang: 'en' }, ` · ${block.heading}`)),
      h('p', { class: 'steptext', 'aria-live': 'polite', lang: own !== '' ? null : 'en' }, text),
      own !== '' && stage !== undefined && stage.holds === 1 ? h('p', { class: 'voice-warn' }, t('oneThing')) : null,
      block.wide ? h('div', { class: 'paper' }, draw(1)) : null,
      block.side ? h('div', { class: 'paper side' }, draw(0)) : null,
      own !== '' ? h('details', { class: 'more' }, h('summary', {}, t('englishOnly')), ...rest) : h('div', {}, ...rest));
  }

  /// Fills the card that only paper shows: the core's own pages.
  fillCard(card: HTMLElement): void {
    const checked = this.app.checked_();
    const report = checked === null || checked.check === null ? null : this.report(checked.tree);
    if (checked === null || checked.check === null || report === null) {
      replace(card, h('h1', {}, t('app')), h('p', { class: 'caution' }, t('caution')), h('p', {}, t('noRig')));
      return;
    }
    if (report.refused) {
      const word = this.app.verdictOfCheck(checked.check);
      replace(card, h('h1', {}, checked.check.title === '' ? t('app') : checked.check.title), h('p', { class: 'caution' }, t('caution')), h('p', {}, badge(word)),
        h('h2', {}, t('refusedSheet')), ...report.findings.map((f) => h('p', {}, f.text)));
      return;
    }
    replace(card);
    for (let page = 0; page < report.pages; page++) {
      const svg = this.app.askOf(checked.tree, Ask.sheetPage, page);
      add(card, h('div', { class: 'page' }, svg === null ? null : figure(svg)));
    }
  }
}
