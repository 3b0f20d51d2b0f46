// SPDX-License-Identifier: MIT
// The search for rigs, beside the page, so that the page never waits for it.
import { Ask, Core, type Events } from './core';
import { runTeam, type TeamJob } from './team_run';

export interface Job { id: number; events: Uint8Array<ArrayBuffer>; quick: boolean; imperial: boolean }
export interface Found { id: number; text: string | null; partial: boolean; ms: number }
/// The figure of what was found; null when another search came between.
export interface Drawn { drawn: number; figure: string | null }

const QUICK_CONTACTS = 3;
let core: Core | null = null;
let held = 0;  // the job whose rigs the core holds

function search(job: Job, contacts: number, partial: boolean): void {
  const begin = performance.now();
  const text = core?.ask(Ask.plan, contacts, 0, job.imperial) ?? null;
  held = text === null ? 0 : job.id;
  const found: Found = { id: job.id, text, partial, ms: performance.now() - begin };
  postMessage(found);
}

// Teams go one after the other; one that nobody waits for any more is left at its next slice.
const newest = { count: 0, choose: 0 };
let queue: Promise<void> = Promise.resolve();

function work(team: TeamJob): void {
  const stale = (): boolean => newest[team.kind] !== team.id;
  newest[team.kind] = team.id;
  queue = queue.then(() => (core === null || stale() ? undefined : runTeam(core, team, (news) => postMessage(news), stale)));
}

onmessage = (event: MessageEvent<{ module?: WebAssembly.Module; job?: Job; draw?: number; imperial?: boolean; team?: TeamJob; stop?: { kind: 'count' | 'choose'; id: number } }>): void => {
  const { module, job, draw, imperial, team, stop } = event.data;
  if (module !== undefined) {
    core = new Core(module);
  }
  if (job !== undefined) {
    const events = { done: () => job.events } as Events;
    if (core === null || core.read(events) !== null) {
      postMessage({ id: job.id, text: null, partial: false, ms: 0 } satisfies Found);
      return;
    }
    if (job.quick) {
      search(job, QUICK_CONTACTS, true);
    }
    search(job, -1, false);
  }
  if (draw !== undefined) {
    postMessage({ drawn: draw, figure: draw === held ? core?.ask(Ask.plansFigure, 0, 0, imperial) ?? null : null } satisfies Drawn);
  }
  if (team !== undefined) {
    work(team);
  }
  if (stop !== undefined) {
    newest[stop.kind] = stop.id;
  }
};

// Whoever cannot hand the module over does the work without a worker.
onmessageerror = (): void => { throw new Error('no module'); };
