// SPDX-License-Identifier: MIT
// Fields for keys of a scene, each by its type: number, flag, choice, text. Limits, defaults and help are the core's.
import { type Key } from './answers';
import type { App } from './app';
import type { Diag, Tree, TreeMap } from './core';
import { button, freshId, h, replace, setText } from './dom';
import { NumberField, type Slide } from './field';
import { choiceName, help, itemName, question, saidAccepted, saidTrouble, t } from './msg';
import { fallback, keyOf, placeOf, valueAt, type Place } from './scene';
import { inUnits } from './units';

export abstract class Fields {
  protected readonly fields = new Map<string, { place: Place; path: string; update(): void; trouble(text: string): void }>();

  constructor(protected readonly app: App, protected readonly root: HTMLElement, private readonly slides: { readonly [path: string]: Slide }) {}

  /// The scene that the fields show, and where a changed value goes.
  protected abstract tree(): TreeMap;
  protected abstract put(place: Place, value: Tree | undefined): void;
  protected abstract parts(): (Node | null)[];

  /// Builds every question anew: another scene, another language, one person more.
  build(): void {
    const opened = new Set(Array.from(this.root.querySelectorAll('details[open]')).map((d) => d.getAttribute('data-key') ?? ''));
    this.fields.clear();
    replace(this.root, ...this.parts());
    for (const details of Array.from(this.root.querySelectorAll('details'))) {
      if (opened.has(details.getAttribute('data-key') ?? '')) {
        details.open = true;
      }
    }
    this.showTrouble(this.app.diag);
  }

  update(): void {
    this.fields.forEach((field) => field.update());
    this.showTrouble(this.app.diag);
  }

  showTrouble(diag: Diag | null): void {
    this.fields.forEach((field, name) => {
      const here = diag !== null && diag.key === name;
      field.trouble(here ? inUnits(`${saidTrouble(diag.message, diag.accepted)}. ${diag.accepted === '' ? '' : t('accepted', saidAccepted(diag.accepted))}`) : '');
    });
  }

  protected section(id: string, title: string, ...content: (Node | null)[]): HTMLElement {
    return h('section', { class: 'ask', 'aria-labelledby': `ask-${id}` }, h('h2', { id: `ask-${id}` }, title), ...content);
  }

  protected more(name: string, title: string, content: (Node | null)[]): HTMLElement | null {
    return content.length === 0 ? null : h('details', { class: 'more', 'data-key': name }, h('summary', {}, title), ...content);
  }

  protected group(group: { first: string[]; more: string[] }, name: string, entry = 0): HTMLElement {
    return h('div', { class: 'group' },
      ...group.first.map((path) => this.field(path, entry)),
      this.more(`${name}-${entry}`, t('otherKeys'), group.more.map((path) => this.field(path, entry))));
  }

  protected field(path: string, entry: number): HTMLElement {
    const key = this.app.key(path);
    const place = placeOf(path, entry);
    switch (key.type) {
      case 'number': case 'integer': return this.numberField(key, place);
      case 'flag': return this.flagField(key, place);
      case 'item': return this.choiceField(key, place, this.app.items.filter((i) => (key.classes & (1 << i.class)) !== 0).map((i) => [i.name, itemName(i.name)]));
      case 'choice': return this.choiceField(key, place, key.choices.split('|').map((c) => [c, choiceName(key.path, c)]));
      default: return this.textField(key, place);
    }
  }

  private remember(key: Key, place: Place, update: () => void, note: HTMLElement): void {
    this.fields.set(keyOf(place), { place, path: key.path, update, trouble: (text) => { setText(note, text); note.hidden = text === ''; } });
  }

  /// @param get,set where the value is not simply that of its place  @param name what is asked, where it is not the key's own question
  protected numberField(key: Key, place: Place, get = () => valueAt(this.tree(), place), set = (value: Tree | undefined) => this.put(place, value), name?: string): HTMLElement {
    const slide = this.slides[key.path] ?? { from: key.lo, to: key.hi, step: 1, start: key.lo };
    const field = new NumberField(key, slide, get, set, name);
    this.remember(key, place, () => field.update(), field.note);
    return field.element;
  }

  private shell(key: Key, control: HTMLElement, note: HTMLElement, id: string, inline = false, back: HTMLElement | null = null): HTMLElement {
    const label = h('label', { for: id }, question(key.path));
    return h('div', { class: inline ? 'field inline' : 'field', 'data-path': key.path },
      back === null ? label : h('div', { class: 'row' }, label, back), control, h('p', { class: 'help' }, inUnits(help(key))), note);
  }

  protected note(): HTMLElement {
    return h('p', { class: 'trouble', role: 'alert', hidden: true });
  }

  private flagField(key: Key, place: Place): HTMLElement {
    const id = freshId('flag');
    const box = h('input', { type: 'checkbox', id, change: () => this.put(place, box.checked) });
    const note = this.note();
    const update = (): void => {
      box.checked = (valueAt(this.tree(), place) ?? fallback(key)) === true;
    };
    update();
    this.remember(key, place, update, note);
    return this.shell(key, box, note, id, true);
  }

  private choiceField(key: Key, place: Place, choices: [string, string][]): HTMLElement {
    const id = freshId('choice');
    const preset = fallback(key);
    const unset = h('option', { value: '' }, preset === undefined ? t('unknownYet') : t('defaultIs', key.type === 'item' ? itemName(String(preset)) : choiceName(key.path, String(preset))));
    const select = h('select', { id, change: () => this.put(place, select.value === '' ? undefined : select.value) },
      unset, ...choices.map(([value, name]) => h('option', { value }, name)));
    const unsay = preset === undefined ? t('unsay') : t('useDefault');
    const back = button('↺', () => { this.put(place, undefined); update(); select.focus(); }, { class: 'small unsay', 'aria-label': `${unsay}: ${question(key.path)}`, title: unsay });
    const note = this.note();
    const update = (): void => {
      const value = valueAt(this.tree(), place);
      select.value = typeof value === 'string' ? value : '';
      back.hidden = select.value === '' || key.required;
    };
    update();
    this.remember(key, place, update, note);
    return this.shell(key, select, note, id, false, back);
  }

  private textField(key: Key, place: Place): HTMLElement {
    const id = freshId('text');
    const input = h('input', { type: 'text', id, maxlength: key.hi, autocomplete: 'off', change: () => this.put(place, input.value === '' && !key.required ? undefined : input.value) });
    const note = this.note();
    const update = (): void => {
      const value = valueAt(this.tree(), place);
      input.value = value === undefined || value === null || typeof value === 'object' ? '' : String(value);
    };
    update();
    this.remember(key, place, update, note);
    return this.shell(key, input, note, id);
  }
}
