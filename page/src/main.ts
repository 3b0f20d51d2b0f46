// SPDX-License-Identifier: MIT
// The page: starts the core, finds the scene to begin with, shows one view at a time, and keeps what was done.
import { App, VIEWS, type View } from './app';
import { briefOf, edgeFirst, type Brief } from './answers';
import { speak, type Diag } from './core';
import { button, h, replace, settle } from './dom';
import { Form } from './form';
import { fromFragment, keep, LinkError, recall, type Kept } from './keep';
import { Learn } from './learn';
import { Menu, type Settings } from './menu';
import { deviceLanguage, getLanguage, saidAccepted, saidTrouble, setLanguage, t } from './msg';
import { RigView } from './rig';
import { badge, RigList, summary, summaryText } from './rigs';
import { isMap, isStart, START } from './scene';
import type {} from './start';
import { Sheet } from './sheet';
import { TeamView } from './team';
import { LANGUAGES } from './text/questions';
import { Undo } from './undo';
import { force, ideal, minutesBand, setImperial } from './units';
import { parseYaml } from './yaml';

const KEEP_MS = 250;
const SHOWN_MS = 100;  // a page in the background is never painted

const textOf = (id: string): string => document.getElementById(id)?.textContent ?? '';

/// After the next paint.
const shown = (): Promise<unknown> => Promise.race([
  new Promise((done) => requestAnimationFrame(() => setTimeout(done))), new Promise((done) => setTimeout(done, document.hidden ? 0 : SHOWN_MS))]);

function place(diag: Diag): string {
  return `${diag.line > 0 ? `${t('where', diag.line, diag.column)}: ` : ''}${diag.key === '' ? '' : `${diag.key}: `}${saidTrouble(diag.message, diag.accepted)}${diag.accepted === '' ? '' : `; ${t('accepted', saidAccepted(diag.accepted))}`}`;
}

class Page {
  private readonly panels = new Map<View, HTMLElement>();
  private readonly form: Form;
  private readonly rigs: RigList;
  private readonly rig: RigView;
  private readonly sheet: Sheet;
  private readonly learn: Learn;
  private readonly team: TeamView;
  private readonly menu: Menu;
  private readonly bar = h('button', { type: 'button', id: 'answer', click: () => { if (this.app.view === 'team') { this.team.toAnswer(); } else { this.go('rigs'); this.rigs.toBest(); } } });
  private readonly undo: Undo;
  private readonly stop = h('div', { id: 'stop', role: 'alert' });
  private readonly say = h('div', { id: 'message', role: 'status' });
  private readonly nav = h('nav', { id: 'tabs', keydown: (event: KeyboardEvent) => this.alongTabs(event) });
  private readonly skip = h('a', { href: '#', id: 'skip', click: (event: Event) => { event.preventDefault(); this.panels.get(this.app.view)?.focus(); } });
  private readonly head = h('header', { id: 'head' });
  private readonly foot = h('footer', { id: 'caution' });
  private readonly card = h('div', { id: 'card', 'aria-hidden': 'true' });
  private settings: Settings = { language: deviceLanguage(), units: 'metric', look: 'auto' };
  private readonly wide = matchMedia('(min-width: 1000px)');
  private keepTimer = 0;
  private storeTold = false;
  private tellFound = (): void => undefined;
  private readonly found = new Promise<void>((done) => { this.tellFound = done; });  // the first answer of the page's own core
  private readonly seed = textOf('start-scene');
  private readonly kept: Kept | null = recall();

  constructor(readonly app: App) {
    this.undo = new Undo(app, this.bar);
    for (const view of VIEWS) {
      this.panels.set(view, h('section', { class: 'panel', id: view, tabindex: -1, role: 'tabpanel', 'aria-labelledby': `tab-${view}` }));
    }
    const panel = (view: View): HTMLElement => this.panels.get(view) as HTMLElement;
    const go = (view: View): void => this.go(view);
    this.form = new Form(app, panel('scene'));
    this.rigs = new RigList(app, panel('rigs'), go);
    this.rig = new RigView(app, panel('rig'), go);
    this.sheet = new Sheet(app, panel('sheet'));
    this.learn = new Learn(app, panel('learn'), this.sheet);
    this.team = new TeamView(app, panel('team'), () => this.answer());
    this.menu = new Menu(app, {
      settings: () => this.settings,
      change: (settings) => this.applySettings(settings),
      load: (text) => this.loadText(text, 'badFile'),
      fresh: () => { app.load(START); this.go('scene'); },
      message: (text, bad) => this.message(text, bad ?? false),
      lesson: () => this.learn.prints(),
    });
  }

  // -------------------------------------------------------------------------------------------------------------- the start

  /// What can be shown before the core runs: the frame, and the answer that came with the scene. Nothing can be done with it yet.
  open(): void {
    if (this.kept !== null) {
      const { language, units, look } = this.kept.settings;
      this.settings = { language: language ?? this.settings.language, units: units === 'imperial' ? 'imperial' : 'metric', look: look ?? 'auto' };
    }
    this.useSettings();
    document.getElementById('opening')?.remove();
    document.body.prepend(this.head, this.nav, this.say, h('main', {}, this.stop, ...this.panels.values(), this.bar, this.undo.button, this.undo.told), this.foot, this.card);
    this.frame();
    this.rest(true);
    this.app.carried = this.carried();
    this.app.tree = this.isOwn() || (this.keptFits() && this.kept?.scene === JSON.stringify(START)) ? START : {};  // the scene itself is read by the core
    this.answer();
  }

  private rest(on: boolean): void {
    [this.head, this.bar, this.nav].forEach((part) => part.toggleAttribute('inert', on));
  }

  private keptFits(): boolean {
    return this.kept !== null && this.kept.seed === this.seed && this.kept.scene !== '';
  }

  private isOwn(): boolean {
    return !this.keptFits() && this.seed === '';
  }

  /// The answer to the scene that the page is about to open, if it came with it.
  private carried(): Brief | null {
    if (/^#z=/.test(location.hash)) {
      return null;  // the link's scene comes
    }
    if (this.keptFits()) {
      return this.kept?.view === 'team' ? null : this.kept?.answer ?? null;
    }
    const text = textOf(this.isOwn() ? 'own-answer' : 'start-answer');
    return text === '' ? null : (JSON.parse(text) as Brief);
  }

  async start(module: WebAssembly.Module): Promise<void> {
    const { app, kept } = this;
    const { carried } = app;
    app.begin(module);
    document.body.append(...this.menu.parts());
    const restored = this.keptFits() && this.takeText(kept?.scene ?? '', carried, kept?.settings['example'] === 'true') === null;
    if (!restored && (this.seed === '' || this.takeText(JSON.parse(this.seed) as string, carried) !== null)) {
      app.load(START, this.seed === '' ? carried : null);
    }
    app.listen((news) => this.hear(news));
    this.answer();
    await shown();  // what is there shows, and the search begins, while the form is built
    this.form.build();
    this.rest(false);
    this.app.view = 'scene';
    this.go(restored && VIEWS.includes(kept?.view as View) ? (kept?.view as View) : 'scene', false);
    await this.takeLink();
    history.replaceState({ view: this.app.view }, '');
    window.addEventListener('popstate', (event) => {
      const { view } = (event.state ?? {}) as { view?: View };
      if (view !== undefined && VIEWS.includes(view)) {
        this.go(view, true, false);
      }
    });
    window.addEventListener('hashchange', () => void this.takeLink());
    window.addEventListener('pagehide', () => this.keepNow());
    document.addEventListener('visibilitychange', () => { if (document.visibilityState === 'hidden') { this.keepNow(); } });
    window.addEventListener('beforeprint', () => (this.app.view === 'team' ? this.team : this.app.view === 'learn' ? this.learn : this.sheet).fillCard(this.card));
    // Where the focus is shows from the first key on, also where the browser would not say.
    window.addEventListener('keydown', () => document.documentElement.setAttribute('data-keys', ''));
    window.addEventListener('pointerdown', () => document.documentElement.removeAttribute('data-keys'));
    await (this.app.searching ? this.found : null);
    document.documentElement.setAttribute('data-ready', 'true');
  }

  private async takeLink(): Promise<void> {
    try {
      const text = await fromFragment(location.hash);
      if (text !== null) {
        history.replaceState(history.state, '', location.href.replace(/#.*$/s, ''));
        this.loadText(text, 'badLink');
      }
    } catch (error) {
      if (error instanceof LinkError) {
        history.replaceState(history.state, '', location.href.replace(/#.*$/s, ''));
        this.message(t('badLink'), true);
      }
    }
  }

  /// @param carried the scene's answer, if it is known  @return null, or why the text is no scene; nothing is changed then
  private takeText(text: string, carried: Brief | null = null, example?: boolean): Diag | null {
    const parsed = parseYaml(text);
    if ('message' in parsed) {
      return parsed;
    }
    const diag = this.app.core.read(parsed.events);
    if (diag !== null) {
      return diag;
    }
    if (isMap(parsed.tree)) {
      this.app.load(parsed.tree, carried, example);
    }
    return null;
  }

  private loadText(text: string, trouble: 'badFile' | 'badLink'): void {
    const { app } = this;
    const [before, example] = [app.ownTree(), app.example];
    const diag = this.takeText(text);
    if (diag !== null) {
      this.message(`${t(trouble)} ${place(diag)}`, true);
      return;
    }
    this.go(app.ownRig ? 'rig' : isMap(app.tree['team']) ? 'team' : 'scene');
    if (!isStart(before)) {  // what was there is not lost
      this.message(t('openedOther'), false, button(t('bringBack'), () => { app.load(before, null, example); this.go('scene'); }, { id: 'bring-back' }));
    }
  }

  // ------------------------------------------------------------------------------------------------------------- what is shown

  private useSettings(): void {
    setLanguage(this.settings.language);
    speak(LANGUAGES.indexOf(getLanguage()));
    setImperial(this.settings.units === 'imperial');
    document.documentElement.lang = getLanguage();
    document.documentElement.setAttribute('data-look', this.settings.look);
    document.title = `firnhaul: ${t('app')}`;
  }

  private applySettings(settings: Settings): void {
    const said = settings.units !== this.settings.units || settings.language !== this.settings.language;
    this.settings = settings;
    this.useSettings();
    if (said) {
      this.sheet.forget();
      this.app.refresh();
    }
    this.frame();
    this.form.build();
    this.show();
    this.keepSoon();
  }

  private frame(): void {
    replace(this.head, this.skip, h('h1', {}, 'firnhaul', h('span', { class: 'sub' }, ` ${t('cautionShort')}`)), this.menu.button());
    replace(this.foot, t('caution'));
    this.undo.update(true);
    const names: { [V in View]: string } = { scene: t('tabScene'), rigs: t('tabRigs'), rig: t('tabRig'), sheet: t('tabSheet'), team: t('tabTeam'), learn: t('tabLearn') };
    this.nav.setAttribute('aria-label', t('views'));
    replace(this.nav, h('div', { role: 'tablist', 'aria-label': t('views') },
      ...VIEWS.map((view) => button(names[view], () => this.go(view), { id: `tab-${view}`, role: 'tab', 'aria-controls': view }))));
    this.markTab();
  }

  private markTab(): void {
    for (const view of VIEWS) {
      const tab = document.getElementById(`tab-${view}`);
      tab?.setAttribute('aria-selected', String(view === this.app.view));
      tab?.setAttribute('tabindex', view === this.app.view ? '0' : '-1');
    }
    const name = document.getElementById(`tab-${this.app.view}`)?.textContent ?? '';
    this.skip.textContent = t('skipTo', name);
  }

  /// Left, right, first, last among the tabs; Enter or space opens the one with the focus (ARIA's pattern for tabs, opened by hand:
  /// a view may take long).
  private alongTabs(event: KeyboardEvent): void {
    const tabs = VIEWS.map((view) => document.getElementById(`tab-${view}`));
    const at = tabs.findIndex((tab) => tab === document.activeElement);
    const to = { ArrowLeft: at - 1, ArrowRight: at + 1, Home: 0, End: tabs.length - 1 }[event.key];
    if (at >= 0 && to !== undefined && !event.altKey && !event.ctrlKey && !event.metaKey) {
      event.preventDefault();
      tabs[(to + tabs.length) % tabs.length]?.focus();
    }
  }

  /// @param step whether the browser's own way back leads here again
  go(view: View, focus = true, step = true): void {
    if (step && view !== this.app.view) {
      history.pushState({ view }, '');
    }
    this.message('', false);
    this.rig.leave();
    this.team.leave();
    this.app.view = view;
    document.body.setAttribute('data-view', view);
    this.markTab();
    this.show();
    window.scrollTo(0, 0);
    if (focus) {
      this.panels.get(view)?.focus({ preventScroll: true });
    }
    this.keepSoon();
  }

  private show(): void {
    this.answer();
    switch (this.app.view) {
      case 'scene': if (this.wide.matches) { this.rigs.render(); } break;
      case 'rigs': this.rigs.render(); break;
      case 'rig': this.rig.render(); break;
      case 'sheet': this.sheet.render(); break;
      case 'team': this.team.render(); break;
      case 'learn': this.learn.render(); break;
    }
  }

  /// The answer in one line, always in sight.
  private answer(): void {
    const { app } = this;
    const stops = app.began ? app.stops() : [];
    settle(this.stop, ...stops.map((text) => h('p', { class: 'voice-warn' }, text)));
    if (app.view === 'team' && app.diag === null) {
      this.team.fillBar(this.bar);
      return;
    }
    const brief = app.brief();
    const lack = app.lack();
    const { verdict, best: index } = summary(brief);
    const best = brief?.list.plans[index];
    this.bar.classList.toggle('stale', (app.searching && app.carried === null) || app.diag !== null);
    if (app.diag !== null) {
      settle(this.bar, h('span', {}, t('refused', place(app.diag))));
    } else if (lack !== null) {
      settle(this.bar, badge('no'), h('span', {}, t(lack)));
    } else if (brief === null) {
      settle(this.bar, h('span', {}, t('searching')));
    } else {
      settle(this.bar, badge(verdict), stops.length > 0 ? h('b', {}, t('readStop')) : null, h('span', {}, `${isStart(app.tree) ? `${t('exampleShort')}. ` : ''}${summaryText(brief)}`),
        best === undefined || verdict === 'no' ? null : h('span', { class: 'best' }, `${t('bestOne')}: ${ideal(best.ideal_advantage)}:1, ${force(best.hand_force_N)}, ${minutesBand({ ...best.time_with_rests_range_s, likely: best.time_with_rests_s })}${edgeFirst(best.over_edge) ? `; ${t('edgeFirst')}` : ''}${best.asks_below ? `; ${t('onlyDown')}` : ''}`));
    }
  }

  private hear(news: string): void {
    if (news === 'load') {
      this.form.build();
      this.show();
    } else if (news === 'scene') {
      this.form.update();
      this.answer();
      if (this.app.view !== 'rigs') {
        this.show();
      }
    } else if (news === 'plans') {
      this.tellFound();
      this.form.told();
      // The list and what hangs on it; a rig of the scene's own stays as it is.
      if (this.app.view === 'rigs' || this.app.view === 'scene' || !this.app.ownRig) {
        this.show();
      }
      this.answer();
    } else {
      this.show();
    }
    this.keepSoon();
  }

  private message(text: string, bad: boolean, undo: HTMLElement | null = null): void {
    this.say.className = bad ? 'bad' : '';
    const said = h('span', {});
    said.textContent = text;  // as it is: what a file may hold has a point, in every language
    replace(this.say, text === '' ? null : said, undo, text === '' ? null : button('×', () => this.message('', false), { 'aria-label': t('close') }));
    if (text !== '') {
      window.scrollTo(0, 0);
    }
  }

  // ----------------------------------------------------------------------------------------------------------------- keeping

  private keepSoon(): void {
    if (this.keepTimer === 0) {
      this.keepTimer = window.setTimeout(() => this.keepNow(), KEEP_MS);
    }
  }

  private keepNow(): void {
    clearTimeout(this.keepTimer);
    this.keepTimer = 0;
    const { language, units, look } = this.settings;
    const { plans, searching, diag } = this.app;
    const answer = plans === null || searching || diag !== null ? null : briefOf(plans);
    const done = keep({ scene: JSON.stringify(this.app.ownTree()), seed: this.seed, view: this.app.view, settings: { language, units, look, example: String(this.app.example) }, answer });
    if (!done && !this.storeTold) {
      this.storeTold = true;
      this.message(t('noStore'), true);
    }
  }
}

// Offline from the second visit on, where a server gives the page together with its two side files.
function install(): void {
  if (location.protocol === 'https:' || (location.protocol === 'http:' && location.hostname === 'localhost')) {
    document.head.appendChild(h('link', { rel: 'manifest', href: 'firnhaul.webmanifest' }));
    void navigator.serviceWorker?.register('firnhaul-offline.js').catch(() => undefined);
  }
}

async function main(): Promise<void> {
  const page = new Page(new App());
  page.open();
  await shown();
  const core = window.firnhaulCore;
  if (core === undefined) {
    throw new Error('no core');
  }
  await page.start(await core());
  install();
}

setLanguage(deviceLanguage());
main().catch(() => {
  document.body.replaceChildren(h('p', { role: 'alert', class: 'callout' }, t('failed')));
});
