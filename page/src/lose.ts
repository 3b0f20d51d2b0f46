// SPDX-License-Identifier: MIT
// What if a part lets go? The core's answer at the stages at which one hauls.
import type { App } from './app';
import { Ask, type TreeMap } from './core';
import { h } from './dom';
import { said, t } from './msg';
import { forceBand, length, type Band } from './units';

export interface LostElement { element: string; kind: string; bears: boolean; caught_by: string | null; drop_m: number | null; peak_N: number | null; peak_range_N: Band; over: string[] }
interface LostStage { name: string; kind: string; elements: LostElement[] }

/// The stages that a person asks about: the others build up to them, or repeat them.
const ASKED = ['haul', 'reset', 'lip'];

let known: { tree: TreeMap; stages: LostStage[] | null } | null = null;

function outcome(e: LostElement): string {
  if (!e.bears) {
    return t('holdsAnyway');
  }
  if (e.caught_by === null) {
    return t('lost');
  }
  const over = e.over.length > 0 ? ` ${t('overLimit', e.over.map(said).join(', '))}` : '';
  return `${t('caughtBy', said(e.caught_by))}. ${t('drops', length(e.drop_m, true), forceBand({ ...e.peak_range_N, likely: e.peak_N }))}.${over}`;
}

/// @return what happens when the elements meant let go; null when it is not worked out
export function lossesOf(app: App, tree: TreeMap, wanted: (e: LostElement) => boolean): Node[] | null {
  if (known === null || known.tree !== tree) {
    const text = app.askOf(tree, Ask.lose);
    known = { tree, stages: text === null ? null : (JSON.parse(text) as { stages: LostStage[] }).stages };
  }
  if (known.stages === null) {
    return null;
  }
  // The same outcome at several stages is said once.
  const told = new Map<string, { e: LostElement; stages: string[] }>();
  for (const stage of known.stages.filter((s) => ASKED.includes(s.kind))) {
    for (const e of stage.elements.filter(wanted)) {
      const text = `${e.element}. ${outcome(e)}`;
      const entry = told.get(text) ?? { e, stages: [] };
      entry.stages.push(stage.name);
      told.set(text, entry);
    }
  }
  const nodes = Array.from(told.values(), ({ e, stages }) => h('p', { class: e.bears && (e.caught_by === null || e.over.length > 0) ? 'note no' : 'note' },
    h('b', {}, `${said(e.element)}. `), `${t('atStage', stages.map(said).join(', '))}. `, outcome(e)));
  return nodes.length > 0 ? nodes : null;
}
