// SPDX-License-Identifier: MIT
// Gives the worker a team to count or ways to compare: of each kind only the newest matters.
import { Core, type Events } from './core';
import { runTeam, type TeamJob, type TeamNews } from './team_run';
import { newWorker } from './workers';

export class TeamWork {
  private worker: Worker | null = null;
  private begun = false;
  private core: Core | null = null;  // only where there are no workers
  private serial = 0;
  private readonly newest = { count: 0, choose: 0 };

  constructor(private readonly module: () => WebAssembly.Module, private readonly take: (news: TeamNews) => void) {}

  /// Begun when somebody first looks at the team.
  private begin(): void {
    this.begun = true;
    try {
      this.worker = newWorker(this.module());
      this.worker.onmessage = (event: MessageEvent<TeamNews>): void => this.hear(event.data);
      this.worker.onerror = (): void => { this.worker = null; };
    } catch {
      this.worker = null;
    }
  }

  private hear(news: TeamNews): void {
    if (news.id === this.newest.count || news.id === this.newest.choose) {
      this.take(news);
    }
  }

  ask(kind: 'count' | 'choose', events: Events, imperial: boolean, designs = 0, falls = 0): void {
    if (!this.begun) {
      this.begin();
    }
    this.serial += 1;
    this.newest[kind] = this.serial;
    const job: TeamJob = { id: this.serial, kind, events: events.done().slice() as Uint8Array<ArrayBuffer>, imperial, designs, falls };
    if (this.worker !== null) {
      this.worker.postMessage({ team: job });
    } else {
      this.core = new Core(this.module());  // one each: what is still under way keeps its own
      void runTeam(this.core, job, (news) => this.hear(news), () => this.newest[kind] !== job.id);
    }
  }

  /// Nobody waits for this kind any more.
  cancel(kind: 'count' | 'choose'): void {
    this.serial += 1;
    this.newest[kind] = this.serial;
    this.worker?.postMessage({ stop: { kind, id: this.serial } });
  }
}
