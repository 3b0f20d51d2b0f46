// SPDX-License-Identifier: MIT
// Asks the worker for rigs: one search at a time, and only the newest scene waits. Without workers it is done here.
import { Ask, Core, type Events } from './core';
import type { Drawn, Found, Job } from './worker';
import { newWorker } from './workers';

/// From this on a short first pass is worth it: what a person takes for "at once".
const LONG_MS = 80;
/// The first answer is on the screen by then.
const BEGIN_MS = 300;

export class Search {
  private worker: Worker | null = null;
  private begun = false;
  private known = 0;  // the job that was answered before the worker began
  private first: Job | null = null;  // the same, to ask again where there are no workers
  private core: Core | null = null;  // only where there are no workers
  private current: Job | null = null;
  private busy = false;
  private waiting: Job | null = null;
  private serial = 0;
  private lastMs = 0;
  private drawn: (figure: string | null) => void = () => undefined;

  constructor(private readonly module: WebAssembly.Module, private readonly found: (f: Found) => void) {}

  private begin(): void {
    this.begun = true;
    try {
      this.worker = newWorker(this.module);
      this.worker.onmessage = (event: MessageEvent<Found | Drawn>): void => {
        if ('drawn' in event.data) {
          this.drawn(event.data.figure);
        } else {
          this.take(event.data);
        }
      };
      this.worker.onerror = (): void => this.without();
      if (this.first?.id === this.serial) {
        this.send(this.first);
      }
    } catch {
      this.worker = null;
    }
  }

  private without(): void {
    this.worker = null;
    this.busy = false;
    const job = this.waiting ?? this.current;
    this.waiting = null;
    if (job !== null) {
      this.here(job);
    }
  }

  private take(found: Found): void {
    if (!found.partial) {
      this.busy = false;
      this.current = null;
      this.lastMs = found.ms;
    }
    if (found.id === this.serial && found.id !== this.known) {
      this.found(found);
    }
    if (!this.busy && this.waiting !== null) {
      const job = this.waiting;
      this.waiting = null;
      this.send(job);
    }
  }

  private send(job: Job): void {
    this.busy = true;
    this.current = job;
    this.worker?.postMessage({ job });
  }

  private here(job: Job): void {
    setTimeout(() => {
      this.core ??= new Core(this.module);
      const refused = this.core.read({ done: () => job.events } as Events);
      const text = refused === null ? this.core.ask(Ask.plan, -1, 0, job.imperial) : null;
      this.take({ id: job.id, text, partial: false, ms: 0 });
    }, 0);
  }

  /// The figure of the newest rigs, which nobody waits for before it is looked at; null when they are not there yet.
  draw(imperial: boolean, done: (figure: string | null) => void): void {
    if (!this.begun) {
      this.begin();
    }
    if (this.worker === null) {
      const { first } = this;
      if (this.core === null && first !== null) {
        this.core = new Core(this.module);
        this.core.read({ done: () => first.events } as Events);
        this.core.ask(Ask.plan, -1, 0, imperial);
      }
      done(this.core?.ask(Ask.plansFigure, 0, 0, imperial) ?? null);
    } else {
      this.drawn = done;
      this.worker.postMessage({ draw: this.serial, imperial });
    }
  }

  /// @param first that holds the same scene: it answers at once as long as there is no worker; null when that would take long
  ask(events: Events, imperial: boolean, first: Core | null): void {
    this.serial += 1;
    if (!this.begun && first !== null && this.known === 0) {
      this.known = this.serial;
      this.found({ id: this.serial, text: first.ask(Ask.plan, -1, 0, imperial), partial: false, ms: 0 });
      this.first = { id: this.serial, events: events.done().slice() as Uint8Array<ArrayBuffer>, quick: false, imperial };
      setTimeout(() => {  // the worker learns of it as well: it draws the rigs, and is there for the next question
        if (!this.begun) {
          this.begin();
        }
      }, BEGIN_MS);
      return;
    }
    if (!this.begun) {
      this.begin();
    }
    const job: Job = { id: this.serial, events: events.done().slice() as Uint8Array<ArrayBuffer>, quick: this.lastMs > LONG_MS, imperial };
    if (this.worker === null) {
      this.here(job);
    } else if (this.busy) {
      this.waiting = job;
    } else {
      this.send(job);
    }
  }
}
