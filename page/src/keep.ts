// SPDX-License-Identifier: MIT
// What survives: the scene in the browser's storage, and scenes as link fragments. Both may be refused, full or broken.
import { briefOf, type Brief } from './answers';
import type { Tree } from './core';
import { fromBase64, gather, through } from './pack';
import { TEXT_MAX } from './yaml';

const SLOT = 'firnhaul.1';

/// The core by its hash: what another core has said of a scene does not count.
declare const CORE_ID: string;

/// @param answer what the page's core said of the scene; null when it had not finished, or was another one
export interface Kept { scene: string; seed: string; view: string; settings: { [name: string]: string }; answer: Brief | null }

/// Anybody can write to the storage: what is not in the form of an answer is none.
function answerFrom(kept: { core?: unknown; answer?: unknown }): Brief | null {
  try {
    const brief = briefOf(kept.answer as Brief);
    const band = (value: object): boolean => Object.values(value).every((v) => v === null || typeof v === 'number');
    const { plans } = brief.list;
    const fine = kept.core === CORE_ID && Array.isArray(plans) && brief.list.less_likely.every(band) && brief.points.length === plans.length && band(brief.crew.force_N) &&
      plans.every(({ asks_below, hand_force_range_N, crew_force_N, time_with_rests_range_s, over_edge, ...numbers }) => typeof asks_below === 'boolean' && (over_edge === null || ['yes', 'unsure', 'no'].includes(over_edge.answer)) && band(hand_force_range_N) && band(crew_force_N) && band(time_with_rests_range_s) && band(numbers));
    return fine ? brief : null;
  } catch {
    return null;
  }
}

/// @return what was kept, or null when there is nothing that can be used
export function recall(): Kept | null {
  try {
    const text = localStorage.getItem(SLOT);
    const kept: unknown = text === null ? null : JSON.parse(text);
    if (kept === null || typeof kept !== 'object') {
      return null;
    }
    const { scene, seed, view, settings } = kept as Partial<Kept>;
    const answer = answerFrom(kept);
    const clean: { [name: string]: string } = {};
    for (const [name, value] of Object.entries(settings ?? {})) {
      clean[name] = String(value);
    }
    return { scene: String(scene ?? ''), seed: String(seed ?? ''), view: String(view ?? ''), settings: clean, answer };
  } catch {
    return null;
  }
}

/// @return false when the browser refuses
export function keep(kept: Kept): boolean {
  try {
    localStorage.setItem(SLOT, JSON.stringify({ ...kept, core: CORE_ID }));
    return true;
  } catch {
    return false;
  }
}

// ------------------------------------------------------------------------------------------------------------------ links

function toBase64Url(bytes: Uint8Array): string {
  let text = '';
  for (let i = 0; i < bytes.length; i += 0x2000) {
    text += String.fromCharCode(...bytes.subarray(i, i + 0x2000));
  }
  return btoa(text).replace(/\+/g, '-').replace(/\//g, '_').replace(/=+$/, '');
}

/// A scene as a link's fragment: JSON, which is YAML, packed.
export async function toFragment(tree: Tree): Promise<string> {
  const bytes = new TextEncoder().encode(JSON.stringify(tree));
  return `#z=${toBase64Url(await gather(through(bytes, new CompressionStream('deflate-raw')), TEXT_MAX * 2))}`;
}

export class LinkError extends Error {}

/// The text in a link's fragment; null when it holds no scene. Throws LinkError when it holds a broken one.
export async function fromFragment(fragment: string): Promise<string | null> {
  const match = /^#z=(.*)$/s.exec(fragment);
  if (match === null) {
    return null;
  }
  try {
    const unpacked = await gather(through(fromBase64(match[1] ?? ''), new DecompressionStream('deflate-raw')), TEXT_MAX);
    return new TextDecoder('utf-8', { fatal: true }).decode(unpacked);
  } catch {
    throw new LinkError();
  }
}
