// SPDX-License-Identifier: MIT
// A scene as a tree: reading and changing a value by its place, and what a number says.
import type { Key } from './answers';
import type { Tree, TreeMap } from './core';

export type Place = (string | number)[];

export function isMap(value: Tree | undefined): value is TreeMap {
  return value !== null && typeof value === 'object' && !Array.isArray(value);
}

export function valueAt(tree: Tree, place: Place): Tree | undefined {
  let at: Tree | undefined = tree;
  for (const step of place) {
    if (typeof step === 'number') {
      at = Array.isArray(at) ? at[step] : undefined;
    } else {
      at = isMap(at) && Object.prototype.hasOwnProperty.call(at, step) ? at[step] : undefined;
    }
  }
  return at;
}

/// A copy of the tree with one value changed; undefined takes it out. Maps on the way are made.
export function withValue(tree: Tree | undefined, place: Place, value: Tree | undefined): Tree {
  const [step, ...rest] = place;
  if (step === undefined) {
    return value ?? null;
  }
  if (typeof step === 'number') {
    const list = Array.isArray(tree) ? tree.slice() : [];
    list[step] = withValue(list[step], rest, value);
    return list;
  }
  const map: TreeMap = isMap(tree) ? { ...tree } : {};
  if (rest.length === 0 && value === undefined) {
    delete map[step];
  } else {
    map[step] = withValue(map[step], rest, value);
  }
  return map;
}

/// A number of a scene: exact, a range, or a distribution.
export interface Quantity { low: number; likely: number; high: number; spread: boolean }

export function quantity(value: Tree | undefined): Quantity | null {
  if (typeof value === 'number') {
    return { low: value, likely: value, high: value, spread: false };
  }
  if (Array.isArray(value) && typeof value[0] === 'number' && typeof value[1] === 'number') {
    return { low: value[0], likely: (value[0] + value[1]) / 2, high: value[1], spread: true };
  }
  if (isMap(value)) {
    const { low, likely, high, mean, sd } = value;
    if (typeof low === 'number' && typeof likely === 'number' && typeof high === 'number') {
      return { low, likely, high, spread: true };
    }
    if (typeof mean === 'number' && typeof sd === 'number') {
      return { low: mean - 2 * sd, likely: mean, high: mean + 2 * sd, spread: true };
    }
  }
  return null;
}

function tidy(value: number): number {
  return Number(value.toPrecision(6));
}

export function fromQuantity(q: Quantity): Tree {
  const low = tidy(q.low);
  const high = tidy(q.high);
  const likely = tidy(q.likely);
  if (low === high) {
    return low;
  }
  return Math.abs(likely - (low + high) / 2) < 1e-6 * (high - low) + 1e-9 ? [low, high] : { low, likely, high };
}

/// A key's default as a value; undefined when it is said in words.
export function fallback(key: Key): Tree | undefined {
  if (key.fallback === '' || key.fallback.startsWith('(')) {
    return undefined;
  }
  try {
    return JSON.parse(key.fallback) as Tree;
  } catch {
    return key.fallback;
  }
}

/// "crew[].mass_kg" and the entry's number as a place: crew, 0, mass_kg.
export function placeOf(path: string, entry = 0): Place {
  return path.split('.').flatMap((part) => (part.endsWith('[]') ? [part.slice(0, -2), entry] : [part]));
}

/// A place as the core names it in a refusal: crew[1].mass_kg.
export function keyOf(place: Place): string {
  return place.reduce<string>((text, step) => (typeof step === 'number' ? `${text}[${step}]` : text === '' ? step : `${text}.${step}`), '');
}

export function countOf(tree: Tree, item: string): number {
  const kit = valueAt(tree, ['kit']);
  return !Array.isArray(kit) ? 0 : kit.reduce<number>((sum, line) => {
    if (!isMap(line) || line['item'] !== item) {
      return sum;
    }
    const count = line['count'];
    return sum + (typeof count === 'number' ? count : 1);
  }, 0);
}

/// The kit with so many of one item; its own efficiency, if it has one, stays.
export function withCount(tree: Tree, item: string, count: number): Tree {
  const kit = valueAt(tree, ['kit']);
  const lines = Array.isArray(kit) ? kit.slice() : [];
  const at = lines.findIndex((line) => isMap(line) && line['item'] === item);
  const others = lines.filter((line, i) => i === at || !isMap(line) || line['item'] !== item);
  if (at < 0) {
    return withValue(tree, ['kit'], count > 0 ? [...others, { item, count }] : others);
  }
  const index = others.indexOf(lines[at] as Tree);
  if (count <= 0) {
    others.splice(index, 1);
  } else {
    others[index] = { ...(lines[at] as TreeMap), count };
  }
  return withValue(tree, ['kit'], others);
}

/// The scene without its rig: what plan works on.
/// How many things there are to build with, ropes and all.
export function piecesOf(tree: Tree): number {
  const list = (name: string): Tree[] => { const all = valueAt(tree, [name]); return Array.isArray(all) ? all : []; };
  return list('kit').reduce<number>((sum, line) => { const count = isMap(line) ? line['count'] : 1; return sum + (typeof count === 'number' ? count : 1); }, list('ropes').length);
}

export function withoutRig(tree: TreeMap): TreeMap {
  const { rig: _rig, ...rest } = tree;
  return rest;
}

/// Is it the page's own example, untouched?
export function isStart(tree: TreeMap): boolean {
  return tree === START || JSON.stringify(tree) === JSON.stringify(START);
}

/// A deep hole of an invented place: what the page opens with.
export const START: TreeMap = {
  firnhaul: 1,
  title: '',
  load: { mass_kg: [70, 100], helps: false },
  slot: { depth_m: 8 },
  lip: { surface: 'padded' },
  ground: {},
  crew: [{ name: '1' }],
  ropes: [{ name: 'main', length_m: 50 }],
  kit_for: 'all',
  kit: [{ item: 'carabiner', count: 8 }, { item: 'pulley', count: 1 }, { item: 'toothed-capture', count: 1 }, { item: 'prusik', count: 3 }],
};
