// SPDX-License-Identifier: MIT
// What if a part lets go? The core's answer, stage by stage, where it has one.
import type { App } from './app';
import { Ask, type TreeMap } from './core';
import { h } from './dom';
import { t } from './msg';
import { forceBand, length, type Band } from './units';

interface LostElement { name: string; kind: string; index: number; bears?: boolean; caught_by: string | null; drop_m: number | null; peak_N: number | null; peak_range_N?: Band; over: string[] }
interface LostStage { name: string; holds: string[]; elements: LostElement[] }

let known: { tree: TreeMap; stages: LostStage[] | null } | null = null;

/// @return what happens at each stage when the elements meant let go; null when it is not worked out
export function lossesOf(app: App, tree: TreeMap, wanted: (e: { name: string; kind: string; index: number }) => boolean): Node[] | null {
  if (known === null || known.tree !== tree) {
    const text = app.askOf(tree, Ask.lose);
    known = { tree, stages: text === null ? null : (JSON.parse(text) as { stages: LostStage[] }).stages };
  }
  if (known.stages === null) {
    return null;
  }
  const nodes: Node[] = [];
  for (const stage of known.stages) {
    for (const element of stage.elements.filter(wanted)) {
      nodes.push(h('p', { class: element.caught_by === null && element.bears !== false ? 'note no' : 'note' }, h('b', {}, `${element.name}. `), `${t('atStage', stage.name)}. `,
        element.bears === false ? t('holdsAnyway')
          : element.caught_by === null ? t('lost')
            : `${t('caughtBy', element.caught_by)}. ${t('drops', length(element.drop_m, true), forceBand(element.peak_range_N ?? { low: element.peak_N, high: element.peak_N }))}${element.over.length > 0 ? ` ${t('overLimit', element.over.join(', '))}` : ''}`));
    }
  }
  return nodes.length > 0 ? nodes : null;
}
