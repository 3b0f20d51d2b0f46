// SPDX-License-Identifier: MIT
// The core in WebAssembly: a scene goes in as events, answers come out as text (page/core.c).

export type Tree = string | number | boolean | null | Tree[] | { [key: string]: Tree };
export type TreeMap = { [key: string]: Tree };

/// The same list as in page/core.h.
export const Ask = {
  keys: 0, gear: 1, plan: 2, yaml: 3, plansFigure: 4, check: 5, section: 6, moved: 7, planView: 8, angle: 9, ideal: 10, rig: 11,
  haul: 12, lose: 13, sheet: 14, sheetFigure: 15, sheetPage: 16, moving: 17, care: 18,
  team: 19, teamMoment: 20, teamSection: 21, teamPaths: 22, teamRaises: 23, teamSheet: 24, designsStart: 25, designsStep: 26, designs: 27, designsFigure: 28, sources: 29,
} as const;

/// fh_status, by number.
export const Status = { ok: 0, arg: 1, input: 2, memory: 3, limit: 4, write: 5 } as const;

/// Why a scene was refused.
export interface Diag { line: number; column: number; key: string; message: string; accepted: string }

/// Kinds of events, as in page/core.c.
export const Event = { mapBegin: 0, mapEnd: 1, listBegin: 2, listEnd: 3, plain: 4, quoted: 5, speak: 6 } as const;

let spoken = 0;
/// The language of the core's words in all documents from now on, in the core's order: English, German, French, Italian.
export function speak(language: number): void {
  spoken = language;
}

interface Exports {
  memory: WebAssembly.Memory;
  _initialize(): void;
  fhp_alloc(count: number): number;
  fhp_free(at: number): void;
  fhp_say(language: number, at: number, whole: number): void;
  fhp_text(): number;
  fhp_text_count(): number;
  fhp_read(at: number, size: number): number;
  fhp_ask(what: number, a: number, b: number, units: number): number;
}

/// On a phone sections are drawn narrower, so that their letters stay large. A worker draws none.
const small = typeof matchMedia === 'function' ? matchMedia('(max-width: 480px)') : null;

const HEAD = 16;
const encoder = new TextEncoder();
const decoder = new TextDecoder();

/// Lists and maps of documents told before, as events.
const told = new WeakMap<object, Uint8Array>();

/// Events in the form that fhp_read takes: kind, line, column, count, then the text.
export class Events {
  private bytes = new Uint8Array(16384);
  private view = new DataView(this.bytes.buffer);
  private used = 0;

  constructor() {
    this.restart();
  }

  /// Another document in the same room.
  restart(): this {
    this.used = 0;
    this.add(Event.speak, '', spoken);
    return this;
  }

  private room(need: number): void {
    if (this.used + need > this.bytes.length) {
      const grown = new Uint8Array((this.used + need) * 2);
      grown.set(this.bytes.subarray(0, this.used));
      this.bytes = grown;
      this.view = new DataView(grown.buffer);
    }
  }

  add(kind: number, text = '', line = 0, column = 0): void {
    this.room(HEAD + text.length * 3);
    let count = 0;
    for (; count < text.length && text.charCodeAt(count) < 0x80; count++) {  // most texts are short and plain
      this.bytes[this.used + HEAD + count] = text.charCodeAt(count);
    }
    if (count < text.length) {
      count = encoder.encodeInto(text, this.bytes.subarray(this.used + HEAD)).written;
    }
    this.view.setUint32(this.used, kind, true);
    this.view.setUint32(this.used + 4, line, true);
    this.view.setUint32(this.used + 8, column, true);
    this.view.setUint32(this.used + 12, count, true);
    this.used += HEAD + count;
  }

  /// A whole document. What stays in it from one to the next is copied: trees are never changed in place (withValue).
  tellAll(tree: TreeMap): void {
    this.add(Event.mapBegin);
    for (const [key, entry] of Object.entries(tree)) {
      this.add(Event.plain, key);
      const known = entry !== null && typeof entry === 'object' ? told.get(entry) : undefined;
      if (known !== undefined) {
        this.room(known.length);
        this.bytes.set(known, this.used);
        this.used += known.length;
      } else {
        const from = this.used;
        this.tell(entry);
        if (entry !== null && typeof entry === 'object') {
          told.set(entry, this.bytes.slice(from, this.used));
        }
      }
    }
    this.add(Event.mapEnd);
  }

  /// A tree as events. Text that could be taken for something else is marked as quoted.
  tell(value: Tree): void {
    if (Array.isArray(value)) {
      this.add(Event.listBegin);
      value.forEach((entry) => this.tell(entry));
      this.add(Event.listEnd);
    } else if (value !== null && typeof value === 'object') {
      this.add(Event.mapBegin);
      for (const [key, entry] of Object.entries(value)) {
        this.add(Event.plain, key);
        this.tell(entry);
      }
      this.add(Event.mapEnd);
    } else if (typeof value === 'string') {
      this.add(looksLikeMore(value) ? Event.quoted : Event.plain, value);
    } else {
      this.add(Event.plain, value === null ? '' : String(value));
    }
  }

  done(): Uint8Array {
    return this.bytes.subarray(0, this.used);
  }
}

function looksLikeMore(text: string): boolean {
  return text === '' || /^[-+.\d]|^(?:true|false|null|yes|no|on|off|~)$/i.test(text);
}

export class Core {
  private exports: Exports;

  constructor(private readonly module: WebAssembly.Module) {
    this.exports = this.start();
  }

  private start(): Exports {
    const exports = new WebAssembly.Instance(this.module, {}).exports as unknown as Exports;
    exports._initialize();
    return exports;
  }

  private text(): string {
    const x = this.exports;
    return decoder.decode(new Uint8Array(x.memory.buffer, x.fhp_text(), x.fhp_text_count()));
  }

  /// The core's own word or name in the chosen language; what has none stays.
  say(text: string, whole = false): string {
    const bytes = new TextEncoder().encode(text);
    try {
      const at = spoken === 0 ? 0 : this.exports.fhp_alloc(bytes.length + 1);
      if (at === 0) {
        return text;
      }
      new Uint8Array(this.exports.memory.buffer, at, bytes.length + 1).set([...bytes, 0]);
      this.exports.fhp_say(spoken, at, whole ? 1 : 0);
      this.exports.fhp_free(at);
      return this.text();
    } catch {
      this.exports = this.start();
      return text;
    }
  }

  /// Gives the core a scene. @return null, or why it was refused; the scene before it then stays
  read(events: Events): Diag | null {
    const bytes = events.done();
    let status: number = Status.memory;
    try {
      const at = this.exports.fhp_alloc(bytes.length + 1);
      if (at !== 0) {
        new Uint8Array(this.exports.memory.buffer, at, bytes.length).set(bytes);
        status = this.exports.fhp_read(at, bytes.length);
        this.exports.fhp_free(at);
      }
    } catch {
      this.exports = this.start();  // a trap leaves the instance unusable
    }
    if (status === Status.ok) {
      return null;
    }
    if (status === Status.input) {
      return JSON.parse(this.text()) as Diag;
    }
    return { line: 0, column: 0, key: '', message: 'the scene could not be read', accepted: '' };
  }

  /// Why the last question had no answer, where the core says so.
  diag: Diag | null = null;

  /// @return the answer, or null when there is none
  ask(what: number, a = 0, b = 0, imperial = false): string | null {
    try {
      const status = this.exports.fhp_ask(what, a, b, (imperial ? 1 : 0) + (small?.matches === true ? 2 : 0));
      this.diag = status === Status.input ? (JSON.parse(this.text()) as Diag) : null;
      return status === Status.ok ? this.text() : null;
    } catch {
      this.exports = this.start();
      return null;
    }
  }
}
