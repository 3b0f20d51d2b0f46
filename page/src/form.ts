// SPDX-License-Identifier: MIT
// The questions, in the order in which they matter. What may be said, in what range, and what holds when nothing is said comes from
// the core's table; here stands only the order, and between which values a thumb slides.
import { ItemClass, type Plan } from './answers';
import type { App } from './app';
import type { Tree, TreeMap } from './core';
import { add, button, h, setText } from './dom';
import type { Slide } from './field';
import { Fields } from './fields';
import { itemName, question, said, t } from './msg';
import { countOf, isMap, quantity, valueAt, withCount, withValue, type Place } from './scene';
import { inUnits } from './units';

/// Where a thumb slides: everyday values, in the document's unit. Exact figures go as far as the core's table allows.
export const SLIDES: { readonly [path: string]: Slide } = {
  'load.mass_kg': { from: 40, to: 160, step: 1, start: 85 },
  'slot.depth_m': { from: 1, to: 40, step: 0.5, start: 8 },
  'lip.turn_deg': { from: 30, to: 110, step: 5, start: 80 },
  'lip.friction': { from: 0, to: 1, step: 0.01, start: 0.3 },
  'lip.cut_m': { from: 0, to: 1.5, step: 0.1, start: 0 },
  'ground.station_m': { from: 1, to: 15, step: 0.5, start: 4 },
  'ground.anchor_m': { from: 1, to: 25, step: 0.5, start: 7 },
  'ground.slope_deg': { from: -30, to: 30, step: 1, start: 0 },
  'ground.reach_m': { from: 0, to: 5, step: 0.1, start: 1 },
  'ground.clearance_m': { from: 0, to: 2, step: 0.1, start: 0.4 },
  'ground.room_m': { from: 3, to: 60, step: 1, start: 25 },
  'ground.holds_kN': { from: 0.5, to: 20, step: 0.5, start: 4 },
  'crew[].mass_kg': { from: 40, to: 120, step: 1, start: 75 },
  'crew[].footing': { from: 0.05, to: 1.2, step: 0.05, start: 0.4 },
  'crew[].pull_N': { from: 50, to: 1000, step: 10, start: 300 },
  'walk_mps': { from: 0.05, to: 1, step: 0.05, start: 0.4 },
  'reset_s': { from: 5, to: 180, step: 5, start: 40 },
  'ropes[].length_m': { from: 10, to: 100, step: 1, start: 50 },
  'ropes[].diameter_mm': { from: 5, to: 12, step: 0.1, start: 8.5 },
  'ropes[].modulus_kN': { from: 5, to: 100, step: 1, start: 11 },
  'ropes[].knots': { from: 0, to: 12, step: 1, start: 0 },
  'kit[].efficiency': { from: 0.3, to: 1, step: 0.01, start: 0.9 },
};

/// What is always in sight, and what stands under "more".
const WHO = { first: ['load.mass_kg', 'load.responds', 'load.helps', 'slot.depth_m'], more: ['title', 'wet'] };
const EDGE = {
  first: ['lip.surface', 'lip.cut_m', 'lip.wall', 'ground.station_m', 'ground.anchor'],
  more: ['lip.turn_deg', 'lip.friction', 'ground.anchor_m', 'ground.holds_kN', 'ground.slope_deg', 'ground.reach_m', 'ground.clearance_m', 'ground.room_m'],
};
const PERSON = { first: ['crew[].mass_kg', 'crew[].posture', 'crew[].footing'], more: ['crew[].name', 'crew[].gloves', 'crew[].pull_N'] };
const PULL = { first: [], more: ['walk_mps', 'reset_s'] };
const KIT = { first: ['kit_for'], more: [] };
const ROPE = { first: ['ropes[].length_m', 'ropes[].knots'], more: ['ropes[].name', 'ropes[].kind', 'ropes[].diameter_mm', 'ropes[].modulus_kN', 'ropes[].wet'] };

/// What most bags hold; other gear stands under "other gear" until there is some.
const COMMON = ['carabiner', 'pulley', 'toothed-capture', 'prusik'];

export const FORM_KEYS: string[] = [WHO, EDGE, PERSON, PULL, ROPE].flatMap((group) => [...group.first, ...group.more])
  .concat(['kit[].item', 'kit[].count', 'kit[].efficiency', 'kit_for', 'prefer']);

/// For an edge that the rope has cut into and nobody has looked at: a guess, no source. The core says the same in its note.
const CUT_GUESS_M = [0.2, 0.8];

/// Does the person below have to clip something in? A rope runs through it at the load then.
function clipsBelow(plan: Plan): boolean {
  const list = (value: Tree | undefined): Tree[] => (Array.isArray(value) ? value : []);
  return list(plan.rig['ropes']).some((rope) => list(isMap(rope) ? rope['path'] : undefined).some((station) => isMap(station) && station['run'] === 'load'));
}

export class Form extends Fields {
  constructor(app: App, root: HTMLElement) {
    super(app, root, SLIDES);
  }

  protected tree(): TreeMap {
    return this.app.tree;
  }

  protected put(place: Place, value: Tree | undefined): void {
    // One who does not answer does not help: the later word holds, the other one goes.
    const path = place.join('.');
    const { load } = this.app.tree;
    const goes = path === 'load.responds' && value === 'silent' ? 'helps' : path === 'load.helps' && value === true && isMap(load) && load['responds'] === 'silent' ? 'responds' : null;
    this.app.replaceTree(withValue(goes === null ? this.app.tree : withValue(this.app.tree, ['load', goes], undefined), place, value) as TreeMap);
  }

  private readonly hint = h('p', { class: 'hint', id: 'example-says' });
  private readonly helps = h('p', { class: 'help', id: 'helps-says' });
  private readonly anchor = h('p', { class: 'note', id: 'anchor-says' });
  private readonly cut = h('p', { class: 'note warn', id: 'cut-says' });
  private readonly wall = h('p', { class: 'voice-warn', id: 'wall-says' });
  private readonly cutTake = button('', () => { this.put(['lip', 'cut_m'], CUT_GUESS_M); }, { class: 'wide', id: 'cut-take' });

  protected override field(path: string, entry: number): HTMLElement {
    const element = super.field(path, entry);
    add(element, ...(path === 'load.helps' ? [this.helps] : path === 'lip.cut_m' ? [this.cut, this.cutTake] : path === 'ground.anchor' ? [this.anchor] : path === 'lip.wall' ? [this.wall] : []));
    return element;
  }

  override build(): void {
    super.build();
    this.told();
  }

  override update(): void {
    super.update();
    this.told();
  }

  /// What an answer changes, or that it changes nothing; and what a kind of edge leaves open.
  told(): void {
    const { tree } = this.app;
    setText(this.hint, t('example'));
    this.hint.hidden = !this.app.example;
    const rigs = this.app.list();
    const loops = rigs.filter(clipsBelow).length;
    const helping = valueAt(tree, ['load', 'helps']) === true;
    setText(this.helps, rigs.length === 0 && this.app.plans ? t('helpsNoRig') : loops === 0 ? t(helping ? 'helpsYesNone' : 'helpsNoNone') : t(helping ? 'helpsYes' : 'helpsNo', loops, rigs.length));
    const open = valueAt(tree, ['lip', 'surface']) === 'cut' && (quantity(valueAt(tree, ['lip', 'cut_m']))?.high ?? 0) === 0;
    const guess = inUnits(`${CUT_GUESS_M.join('–')} m`);
    setText(this.cut, inUnits(t('cutOpen')));
    setText(this.cutTake, t('cutTake', guess));
    this.cut.hidden = this.cutTake.hidden = !open;
    const stops = this.app.stops();  // above all else as well, but that is not in sight from here
    setText(this.wall, stops.join(' '));
    this.wall.hidden = stops.length === 0;
    const points = valueAt(tree, ['anchor', 'points']);
    const kinds = (Array.isArray(points) ? points : []).map((point) => itemName(isMap(point) ? String(point['kind']) : ''));
    setText(this.anchor, t('anchorListed', kinds.join(', ')));
    this.anchor.hidden = kinds.length === 0;
  }

  protected parts(): (Node | null)[] {
    return [this.hint,
      this.section('who', t('whoHangs'), this.group(WHO, 'who')),
      this.section('edge', t('edgeLike'), this.group(EDGE, 'edge')),
      this.section('pull', t('whoPulls'), this.people()),
      this.section('bags', t('whatBags'), this.bags())];
  }

  // --------------------------------------------------------------------------------------------------------- people and bags

  private listOf(name: string): Tree[] {
    const list = valueAt(this.app.tree, [name]);
    return Array.isArray(list) ? list : [];
  }

  private setList(name: string, list: Tree[]): void {
    this.app.replaceTree(withValue(this.app.tree, [name], list) as TreeMap);
    this.build();
  }

  private removal(name: string, entry: number, label: string): HTMLElement {
    return button(t('remove'), () => this.setList(name, this.listOf(name).filter((_e, i) => i !== entry)), { class: 'small', 'aria-label': `${t('remove')}: ${label}` });
  }

  private people(): HTMLElement {
    // Not said: the core takes one person with its defaults. So that they can be asked about, they stand here.
    if (valueAt(this.app.tree, ['crew']) === undefined) {
      this.app.tree = { ...this.app.tree, crew: [{ name: '1' }] };
    }
    const crew = this.listOf('crew');
    const box = h('div', { class: 'group' });
    crew.forEach((person, i) => {
      const name = isMap(person) && typeof person['name'] === 'string' && person['name'] !== '' ? person['name'] : String(i + 1);
      add(box, h('div', { class: 'card' }, h('div', { class: 'row' }, h('h3', {}, t('person', name)), this.removal('crew', i, t('person', name))), this.group(PERSON, 'person', i)));
    });
    add(box, crew.length === 0 ? h('p', { class: 'hint' }, t('nobody')) : null,
      crew.length < this.app.key('crew[]').hi ? button(t('addPerson'), () => this.setList('crew', [...crew, { name: String(crew.length + 1) }]), { class: 'wide' }) : null,
      this.group(PULL, 'pulling'));
    return box;
  }

  private bags(): HTMLElement {
    const ropes = this.listOf('ropes');
    const box = h('div', { class: 'group' });
    ropes.forEach((rope, i) => {
      const name = isMap(rope) ? String(rope['name'] ?? i + 1) : String(i + 1);
      const title = said(name) === name ? t('rope', name) : said(name);
      add(box, h('div', { class: 'card' }, h('div', { class: 'row' }, h('h3', {}, title), this.removal('ropes', i, title)), this.group(ROPE, 'rope', i)));
      box.lastElementChild?.querySelector('[data-path="ropes[].knots"]')?.append(h('p', { class: 'help' }, t('knotsNow')));
    });
    const used = new Set(ropes.map((rope) => (isMap(rope) ? rope['name'] : '')));
    const fresh = ['main', 'second', 'third', ...Array.from({ length: 16 }, (_e, i) => `rope-${i + 4}`)].find((name) => !used.has(name)) ?? 'more';
    add(box, ropes.length < this.app.key('ropes[]').hi ? button(t('addRope'), () => this.setList('ropes', [...ropes, { name: fresh, length_m: 30 }]), { class: 'wide' }) : null);
    const classes = this.app.key('kit[].item').classes;
    const gear = this.app.items.filter((item) => (classes & (1 << item.class)) !== 0 && (item.class !== ItemClass.other || item.name === 'sling'));
    const here = (name: string): boolean => COMMON.includes(name) || countOf(this.app.tree, name) > 0;
    const sorted = [...COMMON.map((name) => gear.find((i) => i.name === name)), ...gear.filter((i) => !COMMON.includes(i.name))].filter((i) => i !== undefined);
    add(box, h('div', { class: 'kit' }, ...sorted.filter((i) => here(i.name)).map((i) => this.counter(i.name, i.about))),
      this.group(KIT, 'kit'),
      this.more('gear', t('otherGear'), sorted.filter((i) => !here(i.name)).map((i) => this.counter(i.name, i.about))),
      this.more('efficiency', question('kit[].efficiency'), this.efficiencies()));
    return box;
  }

  /// Measured efficiencies of what is in the kit and a rope runs over.
  private efficiencies(): HTMLElement[] {
    const runs = new Set(this.app.items.filter((i) => i.class <= ItemClass.capture).map((i) => i.name));
    return this.listOf('kit').flatMap((line, index) => (isMap(line) && typeof line['item'] === 'string' && runs.has(line['item'])
      ? [h('div', {}, h('h3', {}, itemName(line['item'])), this.field('kit[].efficiency', index))] : []));
  }

  private counter(item: string, about: string): HTMLElement {
    const number = h('output', { class: 'count', 'aria-live': 'off' });
    const name = itemName(item);
    const most = this.app.key('kit[].count').hi;
    const change = (by: number) => (): void => {
      const before = countOf(this.app.tree, item);
      const count = Math.min(Math.max(before + by, 0), most);
      this.app.replaceTree(withCount(this.app.tree, item, count) as TreeMap);
      if ((before === 0) !== (count === 0)) {
        this.build();  // other gear moves up, and its efficiency can be asked
        this.root.querySelector<HTMLElement>(`[data-item="${item}"] button:${by < 0 ? 'first' : 'last'}-of-type`)?.focus();
      }
    };
    const key = this.app.key('kit[].count');
    const group = h('div', { class: 'counter', role: 'group', 'aria-label': name, 'data-item': item },
      h('span', { class: 'what' }, h('b', {}, name), h('span', { class: 'help' }, said(about))),
      button('−', change(-1), { 'aria-label': `${t('less')}: ${name}` }), number, button('+', change(1), { 'aria-label': `${t('moreOf')}: ${name}` }));
    const note = this.note();
    const update = (): void => {
      setText(number, String(countOf(this.app.tree, item)));
    };
    update();
    this.fields.set(`kit:${item}`, { place: ['kit'], path: key.path, update, trouble: (text) => setText(note, text) });
    return group;
  }
}
