// SPDX-License-Identifier: MIT
// The build sheet, one step at a time, large, for one hand in a glove: the core's own steps, figures and checks. And its pages,
// as they are printed.
import type { App } from './app';
import { Ask, type TreeMap } from './core';
import { add, button, figure, h, replace } from './dom';
import { t } from './msg';
import { badge, missing, noRig } from './rigs';
import { withoutRig } from './scene';
import { inUnits } from './units';

interface Words { voice: string; lead: string; does: boolean; text: string }
interface Block { heading: string; step: number; side: boolean; wide: boolean; words: Words[] }
interface Report { refused: boolean; pages: number; findings: { level: string; step: number; text: string }[]; blocks: Block[] }

function words(all: Words[]): HTMLElement[] {
  return all.map((w) => h('p', { class: `voice-${w.voice}` }, w.lead === '' || w.does ? '' : h('b', {}, `${w.lead}: `), inUnits(w.text)));
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

  /// Where no rig can be built, this is what is left to read: what this scene warns of, what would help; then when not to raise, other
  /// ways out, the person on the rope. Paper has the scene first: nothing else says there what it is about.
  private noRig(paper: boolean, why: HTMLElement): (HTMLElement | null)[] {
    const text = this.app.askOf(withoutRig(this.app.tree), Ask.care);
    const [scene, ...blocks] = text === null ? [] : (JSON.parse(text) as Block[]);
    const warns = (w: Words): boolean => w.voice === 'warn';
    const card = (block: Block): HTMLElement => h('div', { class: 'card care' }, h('h2', {}, block.heading), ...words(block.words.filter((w) => !warns(w))));
    return [...words(blocks.flatMap((block) => block.words.filter(warns))), why, paper && scene !== undefined ? card(scene) : null, missing(this.app), ...blocks.map(card)];
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
      replace(this.root, ...this.noRig(false, h('p', { class: 'callout' }, checked?.diag?.message ?? t(noRig(this.app) === 'noRigWorks' ? 'noRigHelp' : noRig(this.app)))));
      return;
    }
    if (report.refused) {
      replace(this.root, h('div', { class: 'callout' }, h('h2', {}, t('refusedSheet')), ...report.findings.map((f) => h('p', { class: `note ${f.level}` }, inUnits(f.text)))));
      return;
    }
    const steps = report.blocks;
    this.at = Math.min(this.at, steps.length - 1);
    const move = (by: number, focus: string) => (): void => {
      this.at = Math.min(Math.max(this.at + by, 0), steps.length - 1);
      this.render();
      document.getElementById(focus)?.focus();
    };
    const jump: HTMLSelectElement = h('select', { id: 'jump', 'aria-label': t('allSteps'), change: () => { this.at = Number(jump.value); this.render(); document.getElementById('jump')?.focus(); } },
      ...steps.map((s, i) => h('option', { value: i, selected: i === this.at }, s.heading)));
    replace(this.root, h('h2', {}, t('steps')),
      this.block(steps[this.at] as Block, report, checked.tree),
      h('div', { class: 'row thumbs' }, button(t('back'), move(-1, 'step-back'), { id: 'step-back', 'aria-disabled': String(this.at === 0) }),
        button(t('next'), move(1, 'step-next'), { id: 'step-next', class: 'main', 'aria-disabled': String(this.at === steps.length - 1) })),
      jump, button(t('print'), () => window.print(), { class: 'wide', id: 'print' }),
      ...report.findings.map((f) => h('p', { class: `note ${f.level}` }, inUnits(f.text))));
  }

  private block(block: Block, report: Report, tree: TreeMap): HTMLElement {
    // A step is led by what to do; a card of words by its heading.
    const main = block.step > 0 ? block.words.findIndex((w) => w.does) : -1;
    const text = block.words[main]?.text ?? block.heading;
    // The card of it all: on paper its warnings stand beside the actions, here before them.
    const told = block.words.filter((_w, i) => i !== main);
    const rest = words(report.blocks[0] === block ? [...told.filter((w) => w.voice === 'warn'), ...told.filter((w) => w.voice !== 'warn')] : told);
    const draw = (which: number): Node | null => {
      const index = report.blocks.indexOf(block);
      const svg = this.app.askOf(tree, Ask.sheetFigure, index, which);
      return svg === null ? null : figure(svg);
    };
    return h('div', { class: 'step', role: 'group', 'aria-label': t('stepOf', report.blocks.indexOf(block) + 1, report.blocks.length) },
      h('p', { class: 'stepno' }, t('stepOf', report.blocks.indexOf(block) + 1, report.blocks.length), text === block.heading ? null : ` · ${block.heading}`),
      h('p', { class: 'steptext', 'aria-live': 'polite' }, inUnits(text)),
      block.wide ? h('div', { class: 'paper' }, draw(1)) : null,
      block.side ? h('div', { class: 'paper side' }, draw(0)) : null,
      h('div', {}, ...rest));
  }

  /// A sheet of words, headed as the drawn ones are.
  private fillWords(card: HTMLElement, title: string, ...content: (Node | null)[]): void {
    replace(card, h('div', { class: 'page words' }, h('h1', {}, title === '' ? t('app') : title), h('p', { class: 'blank' }, t('dateLine')), h('p', { class: 'caution' }, t('caution')), ...content));
  }

  /// Fills the card that only paper shows: the core's own pages. @param tree a scene with another rig than the open one
  fillCard(card: HTMLElement, tree: TreeMap | null = null): void {
    const checked = tree === null ? this.app.checked_() : { tree, ...this.app.checkOf(tree) };
    const report = checked === null || checked.check === null ? null : this.report(checked.tree);
    if (checked === null || checked.check === null || report === null) {
      const title = this.app.tree['title'];
      const why = checked?.diag?.message ?? t(noRig(this.app) === 'noRigWorks' ? 'noRigHelp' : 'noRigPaper');
      this.fillWords(card, typeof title === 'string' ? title : '', ...this.noRig(true, h('p', {}, why)));
      return;
    }
    if (report.refused) {
      const word = this.app.verdictOfCheck(checked.check);
      this.fillWords(card, checked.check.title, h('p', {}, badge(word)), h('h2', {}, t('refusedSheet')), ...report.findings.map((f) => h('p', {}, inUnits(f.text))));
      return;
    }
    replace(card);
    for (let page = 0; page < report.pages; page++) {
      const svg = this.app.askOf(checked.tree, Ask.sheetPage, page);
      add(card, h('div', { class: 'page' }, svg === null ? null : figure(svg)));
    }
  }
}
