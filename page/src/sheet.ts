// SPDX-License-Identifier: MIT
// The rig, built step by step: one step at a time, large, for one hand in a glove; and the card that is printed.
import type { Check } from './answers';
import type { App } from './app';
import { Ask, type Tree, type TreeMap } from './core';
import { add, button, figure, h, replace } from './dom';
import { bodyName, itemName, t } from './msg';
import { badge, fact } from './rigs';
import { isMap, quantity } from './scene';
import { advantage, force, forceBand, ideal, length, margin, minutes, minutesBand } from './units';

export interface Step { text: string; check: string; held: string; index: number; foreign: boolean }

interface StageReport { stages: { step?: number; name: string; text: string; check: string; held: string }[]; findings?: { level: string; step: number; text: string }[]; refused?: boolean }

/// The core's own stages where it has them, and what it finds wrong.
function coreStages(app: App, tree: TreeMap): StageReport | null {
  const text = app.askOf(tree, Ask.stages);
  return text === null ? null : (JSON.parse(text) as StageReport);
}

function pathSteps(rope: TreeMap, say: (text: string) => void): void {
  const name = String(rope['name']);
  for (const station of Array.isArray(rope['path']) ? rope['path'] : []) {
    if (!isMap(station)) {
      continue;
    }
    const slack = quantity(station['slack_m']);
    if (typeof station['tie'] === 'string') {
      const body = bodyName(station['tie']);
      say(slack === null || slack.likely === 0 ? t('stepTie', name, body) : t('stepTieSlack', name, body, length(slack.likely)));
    } else if (typeof station['run'] === 'string') {
      say(t('stepRun', name, itemName(String(station['on'])), bodyName(station['run'])));
    } else if (station['edge'] !== undefined) {
      say(t('stepLip', name));
    } else if (station['hand'] !== undefined) {
      say(station['toward'] === 'lip' ? t('stepHandLip', name) : t('stepHandBack', name));
    }
  }
}

/// What a body or bend at a place of the path is called.
function stationName(station: Tree | undefined): string {
  if (!isMap(station)) {
    return '?';
  }
  const body = station['tie'] ?? station['run'];
  return typeof body === 'string' ? bodyName(body) : bodyName(station['edge'] !== undefined ? 'lip' : station['hand'] !== undefined ? 'hand' : 'loose');
}

function gripStep(grip: TreeMap, ropes: Tree[]): string {
  const rope = ropes.find((r) => isMap(r) && r['name'] === grip['rope']);
  const path = isMap(rope) && Array.isArray(rope['path']) ? rope['path'] : [];
  const after = typeof grip['after'] === 'number' ? grip['after'] : 0;
  const at = typeof grip['at_m'] === 'number' ? grip['at_m'] : 0;
  const hitch = itemName(String(grip['hitch']));
  return grip['body'] === 'station' || grip['body'] === 'anchor'
    ? t('stepTended', String(grip['rope']), hitch, bodyName(String(grip['body'])))
    : `${t('stepGrip', String(grip['rope']), hitch, length(at), t('betweenOf', stationName(path[after]), stationName(path[after + 1])))} → ${bodyName(String(grip['body']))}`;
}

/// Steps from the rig alone, in the order of the rope.
function ownSteps(tree: TreeMap, check: Check): Step[] {
  const steps: Step[] = [];
  const say = (text: string): void => {
    steps.push({ text, check: '', held: '', index: -1, foreign: false });
  };
  const rig = tree['rig'];
  const ropes = isMap(rig) && Array.isArray(rig['ropes']) ? rig['ropes'] : [];
  const grips = isMap(rig) && Array.isArray(rig['grips']) ? rig['grips'] : [];
  say(t('stepSecure'));
  say(t('stepAnchor'));
  say(t('stepEdge'));
  grips.forEach((grip) => { if (isMap(grip)) { say(gripStep(grip, ropes)); } });
  ropes.forEach((rope) => { if (isMap(rope)) { pathSteps(rope, say); } });
  say(t('stepTest'));
  say(t('stepPull', String(check.raise.strands.find((s) => s.to === 'hand')?.rope ?? ''), forceBand({ ...check.raise.hand_force_range_N, likely: check.raise.hand_force_N }),
    length(check.throw_m, true), check.resets, minutes(check.time_s)));
  say(t('stepBackup'));
  say(t('stepOver'));
  return steps;
}

export class Sheet {
  private at = 0;
  private key: unknown = null;

  constructor(private readonly app: App, private readonly root: HTMLElement) {}

  steps(): { steps: Step[]; refused: string[] } {
    const checked = this.app.checked_();
    if (checked === null || checked.check === null) {
      return { steps: [], refused: [] };
    }
    const report = coreStages(this.app, checked.tree);
    if (report === null) {
      return { steps: ownSteps(checked.tree, checked.check), refused: [] };
    }
    return {
      steps: report.stages.map((s, index) => ({ text: s.text, check: s.check, held: s.held, index, foreign: true })),
      refused: report.refused === true ? (report.findings ?? []).filter((f) => f.level === 'no').map((f) => f.text) : [],
    };
  }

  render(): void {
    const rig = this.app.rig();
    if (this.key !== rig) {
      this.at = 0;
      this.key = rig;
    }
    const { steps, refused } = this.steps();
    if (steps.length === 0) {
      replace(this.root, h('p', { class: 'hint' }, t('noRig')));
      return;
    }
    if (refused.length > 0) {
      replace(this.root, h('div', { class: 'callout' }, h('h2', {}, t('refusedSheet')), ...refused.map((text) => h('p', { lang: 'en' }, text))));
      return;
    }
    this.at = Math.min(this.at, steps.length - 1);
    const step = steps[this.at] as Step;
    const lang = step.foreign ? 'en' : null;
    const move = (by: number, focus: string) => (): void => {
      this.at = Math.min(Math.max(this.at + by, 0), steps.length - 1);
      this.render();
      document.getElementById(focus)?.focus();
    };
    const tree = this.app.checked_()?.tree;
    const svg = tree === undefined ? null : (step.index >= 0 ? this.app.askOf(tree, Ask.stageFigure, step.index) : null) ?? this.app.askOf(tree, Ask.section);
    replace(this.root, h('h2', {}, t('steps')),
      h('p', { class: 'hint' }, t('cautionShort')),
      h('div', { class: 'step', role: 'group', 'aria-label': t('stepOf', this.at + 1, steps.length) },
        h('p', { class: 'stepno' }, t('stepOf', this.at + 1, steps.length)),
        h('p', { class: 'steptext', 'aria-live': 'polite', lang }, step.text),
        step.check === '' ? null : h('p', { lang }, h('b', {}, `${t('checkOf')}: `), step.check),
        step.held === '' ? null : h('p', { lang }, h('b', {}, `${t('heldBy')}: `), step.held)),
      h('div', { class: 'row thumbs' }, button(t('back'), move(-1, 'step-back'), { id: 'step-back', 'aria-disabled': String(this.at === 0) }),
        button(t('next'), move(1, 'step-next'), { id: 'step-next', class: 'main', 'aria-disabled': String(this.at === steps.length - 1) })));
    const drawing = svg === null ? null : figure(svg);
    add(this.root, h('div', { class: 'paper' }, drawing),
      h('details', { class: 'more' }, h('summary', {}, t('allSteps')), h('ol', {}, ...steps.map((s) => h('li', { lang: s.foreign ? 'en' : null }, s.text)))),
      button(t('print'), () => window.print(), { class: 'wide', id: 'print' }));
  }
}

/// Fills the card that only paper shows.
export function fillCard(app: App, sheet: Sheet, card: HTMLElement): void {
  const checked = app.checked_();
  if (checked === null || checked.check === null) {
    replace(card, h('h1', {}, t('app')), h('p', { class: 'caution' }, t('caution')), h('p', {}, t('noRig')));
    return;
  }
  const { check, tree } = checked;
  const svg = app.askOf(tree, Ask.section);
  const drawing = svg === null ? null : figure(svg);
  const { steps, refused } = sheet.steps();
  const word = app.verdictOfCheck(check);
  replace(card,
    h('h1', {}, check.title === '' ? t('app') : check.title),
    h('p', { class: 'caution' }, t('caution')),
    refused.length > 0 ? h('div', {}, h('h2', {}, t('refusedSheet')), ...refused.map((text) => h('p', {}, text))) : null,
    h('p', {}, badge(word), ` ${t(`canLong_${word}`)}`),
    h('dl', { class: 'facts' },
      fact(t('pull'), forceBand({ ...check.raise.hand_force_range_N, likely: check.raise.hand_force_N })),
      fact(t('advantage'), `${advantage(check.actual_advantage)} (${t('idealAdv')} ${ideal(check.ideal_advantage)})`),
      fact(t('time'), minutesBand({ ...check.time_range_s, likely: check.time_s })),
      fact(t('throwOf'), `${length(check.throw_m, true)}, ${t('resetsN', check.resets)}`),
      fact(t('rope_'), check.ropes.map((r) => `${r.name} ${length(r.needed_m)}`).join(', '))),
    drawing === null ? null : h('div', { class: 'paper' }, drawing),
    refused.length > 0 ? null : h('div', {}, h('h2', {}, t('steps')), h('ol', {}, ...steps.map((s) => h('li', {}, s.text, s.check === '' ? '' : ` ${t('checkOf')}: ${s.check}`)))),
    h('h2', {}, t('limitOf')),
    h('table', {}, h('tbody', {}, ...check.limits.map((l) => h('tr', {}, h('th', { scope: 'row' }, l.element), h('td', {}, force(l.force_N)), h('td', {}, force(l.limit_N)), h('td', {}, margin(l.margin)), h('td', {}, l.source))))),
    h('ul', {}, ...check.notes.map((n) => h('li', {}, n.text))));
}
