// SPDX-License-Identifier: MIT
// What the page knows: the scene, its rigs, the rig that is open; and who is told when it changes.
import { verdict, verdictAt, type Brief, type Check, type Glance, type Item, type Key, type Plan, type Plans, type Verdict } from './answers';
import { Ask, Core, Events, type Diag, type Tree, type TreeMap } from './core';
import { bodyName, getLanguage, said, setSpeaker, t } from './msg';
import { isMap, isStart, piecesOf, START, valueAt, withoutRig, withValue, type Place } from './scene';
import { Search } from './search';
import { Steps } from './undo';
import { isImperial } from './units';
import type { Found } from './worker';

export type View = 'scene' | 'rigs' | 'rig' | 'sheet' | 'team' | 'learn';
export const VIEWS: View[] = ['scene', 'rigs', 'rig', 'sheet', 'team', 'learn'];

/// What happened: `scene` a value changed, `load` another scene, `plans` the search found rigs, `open` another rig is open.
/// `team` the rope team changed: no rig hangs on it.
export type News = 'scene' | 'load' | 'plans' | 'open' | 'view' | 'settings' | 'team';

const FEW_PIECES = 14;  // the first search of a kit of so many is over before a worker has begun
const WARM_ROUNDS = 120;
const WARM_SLICE_MS = 6;

export class App {
  tree: TreeMap = START;
  example = true;             // grown out of the page's own example
  diag: Diag | null = null;   // why the scene, as it stands, is refused
  plans: Plans | null = null;
  carried: Brief | null = null;  // the answer that came with the scene, until the search has its own
  partial = false;
  searching = false;
  open = 0;                   // rig of the list that is open
  ownRig = false;             // the scene's own rig is open
  view: View = 'scene';
  keys: Key[] = [];
  items: Item[] = [];
  private running: { core: Core; module: WebAssembly.Module; search: Search } | null = null;
  private readonly listeners: ((news: News) => void)[] = [];
  private checked: { rig: Tree; tree: TreeMap; check: Check | null; diag: Diag | null } | null = null;
  private inCore: TreeMap | null = null;  // the scene that the core holds
  private readonly events = new Events();
  readonly steps = new Steps();

  /// Before the core is there, the page shows what it carries. Throws when the core does not run.
  begin(module: WebAssembly.Module): void {
    const core = new Core(module);
    const keys = core.ask(Ask.keys);
    if (keys === null) {
      throw new Error('no core');
    }
    setSpeaker((text, whole) => core.say(text, whole));
    this.keys = JSON.parse(keys) as Key[];
    this.items = JSON.parse(core.ask(Ask.gear) ?? '[]') as Item[];
    this.running = { core, module, search: new Search(module, (found) => this.take(found)) };
  }

  get began(): boolean { return this.running !== null; }
  private get ran(): { core: Core; module: WebAssembly.Module; search: Search } {
    if (this.running === null) {
      throw new Error('the core does not run yet');
    }
    return this.running;
  }
  get core(): Core { return this.ran.core; }
  get module(): WebAssembly.Module { return this.ran.module; }

  listen(listener: (news: News) => void): void {
    this.listeners.push(listener);
  }

  tell(news: News): void {
    this.listeners.forEach((listener) => listener(news));
  }

  key(path: string): Key {
    const key = this.keys.find((k) => k.path === path);
    if (key === undefined) {
      throw new Error(`no key ${path}`);
    }
    return key;
  }

  item(name: string): Item | undefined {
    return this.items.find((item) => item.name === name);
  }

  /// A source by its title; what is no key of the core's table (common practice, say) in the chosen language.
  sourceTitle(source: string): string {
    this.sources ??= JSON.parse(this.core.ask(Ask.sources) ?? '{}') as { [key: string]: string };
    return Object.prototype.hasOwnProperty.call(this.sources, source) ? this.sources[source] ?? source : said(source);
  }
  private sources: { [key: string]: string } | null = null;

  // -------------------------------------------------------------------------------------------------------------- the scene

  /// Gives the core a scene. @return null, or why it was refused
  read(tree: TreeMap): Diag | null {
    if (this.inCore === tree) {
      return null;
    }
    const events = this.events.restart();
    events.tellAll(tree);
    const diag = this.core.read(events);
    this.inCore = diag === null ? tree : null;
    return diag;
  }

  private planAnew(): void {
    const base = withoutRig(this.tree);
    this.diag = this.read(base);
    if (this.diag === null) {
      const events = this.events.restart();
      events.tellAll(base);
      this.searching = true;
      this.ran.search.ask(events, isImperial(), this.carried === null && piecesOf(base) <= FEW_PIECES ? this.core : null);
    }
  }

  /// Another scene altogether. @param carried its answer, if that is known already
  load(tree: TreeMap, carried: Brief | null = null, example = isStart(tree)): void {
    this.steps.clear();
    this.tree = tree;
    this.example = example;
    this.carried = carried;
    this.ownRig = isMap(tree['rig']);
    this.open = 0;
    this.chosen = false;
    this.plans = null;
    this.planAnew();
    this.tell('load');
  }

  set(place: Place, value: Tree | undefined): void {
    this.replaceTree(withValue(this.tree, place, value) as TreeMap);
  }

  /// Back to what was before the last change.
  undo(): void {
    const tree = this.steps.back();
    if (tree !== undefined) {
      this.tree = tree;
      this.carried = null;
      this.planAnew();
      this.tell('load');
    }
  }

  replaceTree(tree: TreeMap): void {
    this.steps.note(this.tree);
    this.tree = tree;
    this.carried = null;
    this.planAnew();
    this.tell('scene');
  }

  /// Another team, and what else of the scene goes with it. @return null, or why it is refused: then nothing has changed
  setTeam(team: Tree, more: TreeMap | null): Diag | null {
    const tree: TreeMap = { ...this.tree, ...(more ?? {}), team };
    const diag = this.read(withoutRig(tree));
    if (diag !== null && (this.diag === null || diag.key.startsWith('team'))) {
      return diag;
    }
    this.steps.note(this.tree);
    this.tree = tree;
    this.diag = diag;
    if (more !== null) {
      this.planAnew();
    }
    this.tell(more === null ? 'team' : 'load');
    return null;
  }

  /// All anew: other units, another language.
  refresh(): void {
    this.inCore = null;
    this.checked = null;
    this.planAnew();
  }

  // --------------------------------------------------------------------------------------------------------------- the rigs

  private take(found: Found): void {
    this.searching = found.partial;
    this.partial = found.partial;
    if (found.text !== null) {
      const before = this.openPlan();
      this.plans = JSON.parse(found.text) as Plans;
      this.carried = null;
      const same = before === null ? -1 : this.all().findIndex((plan) => JSON.stringify(plan.rig) === JSON.stringify(before.rig));
      this.open = same >= 0 ? same : Math.min(this.open, Math.max(this.list().length - 1, 0));
      if (same < 0 && before !== null) {
        this.open = 0;
      }
      this.chosen = this.chosen && (same >= 0 || this.list().length > 0);  // a less likely rig opens only when it is asked for
    }
    this.tell('plans');
  }

  /// The figure of all rigs, once it is there.
  drawPlans(done: (figure: string | null) => void): void {
    this.ran.search.draw(isImperial(), done);
  }

  /// What no rig can be without, where the scene says that it is not there.
  lack(): 'nobodyPulls' | 'noRopeHere' | null {
    const none = (name: string): boolean => { const list = this.tree[name]; return Array.isArray(list) && list.length === 0; };
    return none('crew') ? 'nobodyPulls' : none('ropes') ? 'noRopeHere' : null;
  }

  /// What can be said in one line.
  brief(): Brief | null {
    return this.plans ?? this.carried;
  }

  list(): Plan[] {
    return this.plans?.list.plans ?? [];
  }

  /// Behind those of the list the less likely ones.
  all(): Plan[] {
    return [...this.list(), ...(this.plans?.list.less_likely ?? [])];
  }

  openPlan(): Plan | null {
    return this.list()[this.open] ?? (this.chosen ? this.all()[this.open] ?? null : null);
  }

  /// What the open rig is called.
  rigName(): string {
    const count = this.list().length;
    return this.ownRig ? t('rigOwn') : this.open < count ? t('rigNo', this.open + 1, count) : t('rigLess', this.open + 1);
  }

  choose(index: number): void {
    this.open = index;
    this.ownRig = false;
    this.chosen = true;
    this.tell('open');
  }

  /// The rig that is open: the scene's own, or one of the list.
  rig(): Tree | null {
    return this.ownRig && isMap(this.tree['rig']) ? this.tree['rig'] : this.openPlan()?.rig ?? null;
  }

  /// The scene with a rig in it, ready for the core.
  withRig(rig: Tree): TreeMap {
    return { ...this.tree, rig };
  }

  verdictOf(index: number): Verdict {
    return this.plans === null ? 'no' : verdictAt(this.plans, index);
  }

  /// The scene as it is kept, saved and shared: with the rig that a person put in or chose.
  ownTree(): TreeMap {
    const rig = this.rig();
    return this.ownRig || this.chosen ? (rig === null ? this.tree : this.withRig(rig)) : this.tree;
  }
  private chosen = false;

  /// Works out a scene that holds a rig.
  checkOf(tree: TreeMap): { check: Check | null; diag: Diag | null } {
    const diag = this.read(tree);
    const text = diag === null ? this.core.ask(Ask.check) : null;
    return { check: text === null ? null : (JSON.parse(text) as Check), diag };
  }

  /// The same at a glance, quicker. @param timed whether its time is asked for: that is a third of the work
  glanceOf(tree: TreeMap, timed: boolean): Glance | null {
    const text = this.read(tree) === null ? this.core.ask(Ask.check, timed ? 2 : 3) : null;
    return text === null ? null : (JSON.parse(text) as Glance);
  }

  /// The browser makes code quick once it has run for a while: so the core runs while nobody waits, a few milliseconds at a time.
  warm(tree: TreeMap): void {
    const idle = window.requestIdleCallback ?? ((work: () => void) => window.setTimeout(work, 50));
    const again = (): void => {
      const end = performance.now() + WARM_SLICE_MS;
      while (this.cold > 0 && performance.now() < end) {
        this.cold -= 1;
        this.inCore = null;
        this.glanceOf(tree, true);
        this.askOf(tree, this.cold % 2 === 0 ? Ask.moving : Ask.section);
      }
      if (this.cold > 0) {
        idle(again);
      }
    };
    if (this.cold === WARM_ROUNDS) {
      idle(again);
    }
  }
  private cold = WARM_ROUNDS;

  /// What must be read before any answer about gear: the core's own warning of a raise that must not begin yet.
  stops(): string[] {
    if (this.stopped?.of !== this.tree || this.stopped.in !== getLanguage()) {
      const silent = valueAt(this.tree, ['load', 'responds']) === 'silent';  // nobody else is warned of: nothing to ask
      const text = silent ? this.askOf(withoutRig(this.tree), Ask.care) : null;
      const [, ...blocks] = text === null ? [] : (JSON.parse(text) as { words: { voice: string; text: string }[] }[]);
      this.stopped = { of: this.tree, in: getLanguage(), texts: blocks.flatMap((block) => block.words.filter((w) => w.voice === 'warn').map((w) => w.text)) };
    }
    return this.stopped.texts;
  }
  private stopped: { of: TreeMap; in: string; texts: string[] } | null = null;

  /// The open rig, worked out; the same again until scene or rig change.
  checked_(): { check: Check | null; diag: Diag | null; tree: TreeMap } | null {
    const rig = this.rig();
    if (rig === null) {
      return null;
    }
    if (this.checked === null || this.checked.rig !== rig || this.checked.tree !== this.tree) {
      const tree = this.withRig(rig);
      this.checked = { rig, tree: this.tree, ...this.checkOf(tree) };
      this.checkedTree = tree;
    }
    return { check: this.checked.check, diag: this.checked.diag, tree: this.checkedTree };
  }
  private checkedTree: TreeMap = START;

  /// A figure or text of a scene with a rig.
  askOf(tree: TreeMap, what: number, a = 0, b = 0): string | null {
    return this.read(tree) === null ? this.core.ask(what, a, b, isImperial()) : null;
  }

  verdictOfCheck(check: Glance): Verdict {
    return verdict(check.answer, { ...check.raise.hand_force_range_N, likely: check.raise.hand_force_N }, check.crew.force_N, check.over_edge);
  }
}

export function strandName(from: string, to: string): string {
  return `${bodyName(from)} – ${bodyName(to)}`;
}
