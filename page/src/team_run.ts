// SPDX-License-Identifier: MIT
// The long work on a team, in slices, so that it can say how far it is and be stopped: in a worker, or where there are none, here.
import { Ask, type Core, type Diag, type Events } from './core';

export interface TeamJob { id: number; kind: 'count' | 'choose'; events: Uint8Array<ArrayBuffer>; imperial: boolean; designs: number; falls: number }
/// `text` null: the core refuses, and `diag` says why if it does.
export interface TeamNews { id: number; kind: 'count' | 'raises' | 'sheet' | 'progress' | 'designs'; text: string | null; figure: string | null; part: number; diag: Diag | null }

/// A first count at once, then what the terminal counts.
export const COUNTS = [256, 2000];
const SLICE_MS = 40;

const pause = (): Promise<void> => new Promise((done) => { setTimeout(done, 0); });

/// @param stale true once nobody waits for this job any more
export async function runTeam(core: Core, job: TeamJob, post: (news: TeamNews) => void, stale: () => boolean): Promise<void> {
  const say = (kind: TeamNews['kind'], text: string | null, part = 1, figure: string | null = null): void => {
    post({ id: job.id, kind, text, figure, part, diag: core.diag });
  };
  if (core.read({ done: () => job.events } as Events) !== null) {
    say(job.kind === 'count' ? 'count' : 'designs', null);
    return;
  }
  await (job.kind === 'count' ? count(core, job, say, stale) : choose(core, job, say, stale));
}

type Say = (kind: TeamNews['kind'], text: string | null, part?: number, figure?: string | null) => void;

async function count(core: Core, job: TeamJob, say: Say, stale: () => boolean): Promise<void> {
  let falls = 0;
  for (falls of COUNTS) {
    const text = core.ask(Ask.team, falls);
    say('count', text, falls === COUNTS[COUNTS.length - 1] ? 1 : 0);
    await pause();
    if (text === null || stale()) {
      return;
    }
  }
  say('raises', core.ask(Ask.teamRaises, falls));
  await pause();
  if (!stale()) {
    say('sheet', core.ask(Ask.teamSheet, falls, 0, job.imperial));
  }
}

async function choose(core: Core, job: TeamJob, say: Say, stale: () => boolean): Promise<void> {
  const begun = core.ask(Ask.designsStart, job.designs, job.falls);
  if (begun === null) {
    say('designs', null);
    return;
  }
  const { steps } = JSON.parse(begun) as { steps: number };
  for (let step = 0; step < steps;) {
    const begin = performance.now();
    for (; step < steps && performance.now() - begin < SLICE_MS; step++) {
      if (core.ask(Ask.designsStep, step) === null) {
        say('designs', null);
        return;
      }
    }
    say('progress', null, step / steps);
    await pause();
    if (stale()) {
      return;
    }
  }
  const text = core.ask(Ask.designs);
  say('designs', text, 1, core.ask(Ask.designsFigure, 0, 0, job.imperial));
}
