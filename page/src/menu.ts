// SPDX-License-Identifier: MIT
// The menu: language, units, look; open, save, share, print, start again.
import type { App } from './app';
import { button, h, replace } from './dom';
import { toFragment } from './keep';
import { t } from './msg';
import { LANGUAGES } from './text/questions';
import { ideal } from './units';
import { toYaml } from './write';
import { TEXT_MAX } from './yaml';

export interface Settings { language: string; units: string; look: string }

interface Host {
  settings(): Settings;
  change(settings: Settings): void;
  load(text: string): void;
  fresh(): void;
  message(text: string, bad?: boolean): void;
  lesson(): string | null;
}

const NAMES: { readonly [l: string]: string } = { en: 'English', de: 'Deutsch', fr: 'Français', it: 'Italiano' };

export class Menu {
  private readonly dialog = h('dialog', { id: 'menu' });
  private readonly file = h('input', { type: 'file', id: 'file', accept: '.yaml,.yml,.json,.txt,text/*,application/json', hidden: true, change: () => void this.open() });

  constructor(private readonly app: App, private readonly host: Host) {}

  button(): HTMLElement {
    return button(t('menu'), () => this.show(), { id: 'open-menu', 'aria-haspopup': 'dialog' });
  }

  /// What stands in the page once: taken out and put back, a dialog would lose its place above everything.
  parts(): HTMLElement[] {
    return [this.dialog, this.file];
  }

  private show(): void {
    this.fill();
    this.dialog.showModal();
  }

  private choice(name: keyof Settings, label: string, options: [string, string][]): HTMLElement {
    const now = this.host.settings();
    return h('fieldset', { class: 'pick' }, h('legend', {}, label), ...options.map(([value, text]) => button(text, () => {
      this.host.change({ ...this.host.settings(), [name]: value });
      this.fill();
      this.dialog.querySelector<HTMLElement>(`#set-${name}-${value}`)?.focus();
    }, { id: `set-${name}-${value}`, 'aria-pressed': String(now[name] === value), lang: name === 'language' ? value : null })));
  }

  private fill(): void {
    const act = (what: () => void) => (): void => {
      this.dialog.close();
      what();
    };
    this.dialog.setAttribute('aria-label', t('menu'));
    const open = this.dialog.open;
    replace(this.dialog,
      h('div', { class: 'row' }, h('h2', {}, t('menu')), button('×', () => this.dialog.close(), { 'aria-label': t('close'), id: 'close-menu' })),
      button(t('open'), act(() => this.file.click()), { class: 'wide', id: 'do-open' }),
      button(t('save'), act(() => this.save()), { class: 'wide', id: 'do-save' }),
      button(t('makeLink'), act(() => void this.share()), { class: 'wide', id: 'do-share' }),
      button(this.prints(), act(() => window.print()), { class: 'wide', id: 'do-print' }),
      button(t('fresh'), act(() => { if (window.confirm(t('freshSure'))) { this.host.fresh(); } }), { class: 'wide', id: 'do-fresh' }),
      this.choice('language', t('language'), LANGUAGES.map((l) => [l, NAMES[l] ?? l])),
      this.choice('units', t('units'), [['metric', t('metric')], ['imperial', t('imperial')]]),
      this.choice('look', t('look'), [['auto', t('lookAuto')], ['light', t('lookLight')], ['dark', t('lookDark')], ['glare', t('lookGlare')]]));
    if (!open && this.dialog.open) {
      this.dialog.close();
    }
  }

  /// What the printer would give: the card of the rig that is open under Rig; under Learn what is taught; or the team's sheet.
  private prints(): string {
    const { app } = this;
    const lesson = app.view === 'learn' ? this.host.lesson() : null;
    if (lesson !== null) {
      return lesson;
    }
    const what = app.view === 'team' ? t('teamSheet') : app.rig() === null ? '' : app.rigName();
    const of = app.view === 'team' ? null : app.ownRig ? app.checked_()?.check?.ideal_advantage ?? null : app.openPlan()?.ideal_advantage ?? null;
    return what === '' ? t('print') : `${t('print')}: ${what}${of === null ? '' : `, ${ideal(of)}:1`}`;
  }

  private async open(): Promise<void> {
    const file = this.file.files?.[0];
    this.file.value = '';
    if (file === undefined) {
      return;
    }
    // One byte more than is allowed is enough to know that it is too much.
    const bytes = await file.slice(0, TEXT_MAX + 1).arrayBuffer();
    try {
      this.host.load(new TextDecoder('utf-8', { fatal: true }).decode(bytes));
    } catch {
      this.host.message(`${t('badFile')} UTF-8`, true);
    }
  }

  /// The scene with the rig that is open: what was stated, as in a link.
  private save(): void {
    const tree = this.app.ownTree();
    const diag = this.app.read(tree);
    if (diag !== null) {
      this.host.message(t('refused', diag.message), true);
      return;
    }
    const title = String(tree['title'] ?? '').replace(/[^\p{L}\p{N}]+/gu, '-').replace(/^-|-$/g, '').slice(0, 60);
    const name = `${title === '' ? 'scene' : title}.yaml`;
    const link = h('a', { href: URL.createObjectURL(new Blob([toYaml(tree)], { type: 'application/yaml' })), download: name, id: 'download' });
    this.host.message(t('saved', name));
    document.body.appendChild(link);
    link.click();
    setTimeout(() => { URL.revokeObjectURL(link.href); link.remove(); }, 10000);
  }

  private async share(): Promise<void> {
    const url = location.href.replace(/#.*$/s, '') + await toFragment(this.app.ownTree());
    const copied = await navigator.clipboard.writeText(url).then(() => true, () => false);  // no clipboard: it is shown, selected
    const only = location.protocol === 'file:';
    const field = h('textarea', { readonly: true, id: 'link', rows: 4, 'aria-label': t('linkIs') });
    field.value = url;
    replace(this.dialog, h('div', { class: 'row' }, h('h2', {}, t('makeLink')), button('×', () => this.dialog.close(), { 'aria-label': t('close') })), copied || only ? h('p', { class: 'note warn', role: 'status' }, t(only ? copied ? 'copiedFile' : 'linkHere' : 'copied')) : null, h('p', {}, t('linkIs')), field);
    this.dialog.showModal();
    field.select();
  }
}
