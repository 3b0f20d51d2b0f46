// SPDX-License-Identifier: MIT
// The way back from the last change of any field. What one press, one drag or one key changes is one step.
import type { App } from './app';
import type { Tree, TreeMap } from './core';
import { button, h, replace, setText } from './dom';
import { itemName, question, t } from './msg';
import { isMap, valueAt, type Place } from './scene';

const MOST = 50;  // steps

export class Steps {
  private readonly trees: TreeMap[] = [];
  private open = false;  // the last change goes on

  /// @param tree the scene before a change
  note(tree: TreeMap): void {
    if (!this.open) {
      this.trees.splice(0, this.trees.length - MOST + 1);
      this.trees.push(tree);
      this.open = true;
    }
  }

  /// What comes next is another step.
  close(): void {
    this.open = false;
  }

  clear(): void {
    this.trees.length = 0;
    this.open = false;
  }

  get last(): TreeMap | undefined {
    return this.trees[this.trees.length - 1];
  }

  back(): TreeMap | undefined {
    this.open = false;
    return this.trees.pop();
  }
}

/// Where two scenes differ first; of two lists of different length, the list.
function apart(a: Tree | undefined, b: Tree | undefined, place: Place = []): Place {
  const alike = (x: Tree | undefined, y: Tree | undefined): boolean => JSON.stringify(x) === JSON.stringify(y);
  if (isMap(a) && isMap(b)) {
    const key = Object.keys({ ...a, ...b }).find((k) => !alike(a[k], b[k]));
    return key === undefined ? place : apart(a[key], b[key], [...place, key]);
  }
  if (Array.isArray(a) && Array.isArray(b) && a.length === b.length) {
    const at = a.findIndex((one, i) => !alike(one, b[i]));
    return at < 0 ? place : apart(a[at], b[at], [...place, at]);
  }
  return place;
}

/// A place's path in the table of questions, and what is asked there: "crew[].mass_kg".
function asked(place: Place, tree: TreeMap): { path: string; name: string } {
  const item = valueAt(tree, [...place.slice(0, 2), 'item']);
  if (typeof item === 'string') {
    return { path: 'kit', name: itemName(item) };
  }
  for (let end = place.length; end > 0; end--) {
    const path = place.slice(0, end).reduce<string>((text, step) => (typeof step === 'number' ? `${text}[]` : text === '' ? step : `${text}.${step}`), '');
    if (question(path) !== path) {
      return { path, name: question(path) };
    }
  }
  const top = String(place[0]);
  return { path: top, name: t(top === 'crew' ? 'whoPulls' : top === 'team' ? 'teamTitle' : 'whatBags') };
}

export class Undo {
  private shown: TreeMap | undefined;
  readonly button = button('', () => this.back(), { id: 'undo', hidden: true });
  readonly told = h('span', { role: 'status', class: 'unseen', id: 'undone' });

  constructor(private readonly app: App, private readonly bar: HTMLElement) {
    const close = (): void => app.steps.close();
    window.addEventListener('pointerdown', close, true);
    window.addEventListener('keydown', (event) => { if (!event.repeat) { close(); } }, true);
    document.addEventListener('change', close);
    document.addEventListener('click', close);
    app.listen(() => this.update());
  }

  /// @param anew also where nothing has changed: another language
  update(anew = false): void {
    const { last } = this.app.steps;
    if (last !== this.shown || anew) {
      this.shown = last;
      this.button.hidden = last === undefined;
      this.bar.classList.toggle('undoable', last !== undefined);
      replace(this.button, '↶', h('span', {}, `\u00A0${t('undo')}`));
      if (last !== undefined) {
        this.button.setAttribute('aria-label', `${t('undo')}: ${asked(apart(last, this.app.tree), last).name}`);
        setText(this.told, '');
      }
    }
  }

  private back(): void {
    const { tree } = this.app;
    this.app.undo();
    const { path, name } = asked(apart(this.app.tree, tree), this.app.tree);
    setText(this.told, t('undone', name));
    document.querySelector(`body[data-view=team] #team [data-path="${path}"], body:not([data-view=team]) #scene [data-path="${path}"]`)?.scrollIntoView({ block: 'nearest' });
    if (this.button.hidden) {
      document.getElementById(this.app.view)?.focus({ preventScroll: true });
    }
  }
}
