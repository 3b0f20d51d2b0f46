// SPDX-License-Identifier: MIT
// A scene's text, YAML or JSON, as events with line and column and as a tree. As strict as the terminal: no anchors, aliases,
// tags or second documents, at most 1 MiB. Columns count bytes.
import { isAlias, isMap, isScalar, isSeq, LineCounter, parseAllDocuments } from 'yaml';
import type { Document, Node } from 'yaml';
import { Event, Events, type Diag, type Tree, type TreeMap } from './core';

export const TEXT_MAX = 1024 * 1024;

export interface Parsed { events: Events; tree: Tree }

class Refusal extends Error {
  constructor(readonly at: number, message: string, readonly accepted: string) {
    super(message);
  }
}

const NUMBER = /^[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?$/;

function valueOf(text: string, quoted: boolean): Tree {
  if (quoted) {
    return text;
  }
  if (NUMBER.test(text) && Number.isFinite(Number(text))) {
    return Number(text);
  }
  return text === 'true' ? true : text === 'false' ? false : text;
}

class Feeder {
  readonly events = new Events();
  constructor(private readonly text: string, private readonly place: (at: number) => { line: number; column: number }) {}

  private say(kind: number, at: number, text = ''): void {
    const { line, column } = this.place(at);
    this.events.add(kind, text, line, column);
  }

  /// Where the mark before a value stands: an anchor or a tag.
  private mark(sign: string, at: number): number {
    let found = this.text.lastIndexOf(sign, at);
    while (found > 0 && this.text[found - 1] === sign) {
      found -= 1;
    }
    return found < 0 ? at : found;
  }

  feed(node: Node, depth: number): Tree {
    const at = node.range?.[0] ?? 0;
    if (depth > 32) {
      throw new Refusal(at, 'the document is too deep or too large', 'at most 32 levels and 100,000 entries');
    }
    if (isAlias(node)) {
      throw new Refusal(at, 'a YAML alias', 'values written out, without & and *');
    }
    if ('anchor' in node && node.anchor !== undefined) {
      throw new Refusal(this.mark('&', at), 'a YAML anchor', 'values written out, without & and *');
    }
    if (node.tag !== undefined) {
      throw new Refusal(this.mark('!', at), 'a YAML tag', 'values without !');
    }
    if (isScalar(node)) {
      return this.scalar(node as Node & { source?: string; type?: string }, at);
    }
    if (isSeq(node)) {
      this.say(Event.listBegin, at);
      const list = node.items.map((item) => this.feed(item as Node, depth + 1));
      this.events.add(Event.listEnd);
      return list;
    }
    if (isMap(node)) {
      return this.map(node.items as { key: Node | null; value: Node | null }[], at, depth);
    }
    throw new Refusal(at, 'not YAML', 'YAML or JSON text');
  }

  private scalar(node: Node & { source?: string; type?: string }, at: number): Tree {
    const quoted = node.type !== 'PLAIN' && node.type !== undefined;
    const text = node.source ?? '';
    this.say(quoted ? Event.quoted : Event.plain, at, text);
    return valueOf(text, quoted);
  }

  private map(items: { key: Node | null; value: Node | null }[], at: number, depth: number): Tree {
    // Without a prototype: a key such as __proto__ is a key like any other.
    const map = Object.create(null) as TreeMap;
    this.say(Event.mapBegin, at);
    for (const { key, value } of items) {
      if (key === null) {
        throw new Refusal(at, 'neither a map, nor a list, nor plain text with a plain key', 'keys and values in UTF-8 without NUL');
      }
      const name = this.feed(key, depth + 1);
      if (value === null) {
        this.say(Event.plain, key.range?.[1] ?? at);
        map[String(name)] = '';
      } else {
        map[String(name)] = this.feed(value, depth + 1);
      }
    }
    this.events.add(Event.mapEnd);
    return map;
  }
}

function diag(line: number, column: number, message: string, accepted: string): Diag {
  return { line, column, key: '', message, accepted };
}

export function parseYaml(source: string): Parsed | Diag {
  const encoder = new TextEncoder();
  const text = source.startsWith('\uFEFF') ? source.slice(1) : source;
  if (text.length > TEXT_MAX || encoder.encode(text).length > TEXT_MAX) {
    return diag(0, 0, 'the file is too large', 'at most 1 MiB');
  }
  const nul = text.indexOf('\0');
  const lines = new LineCounter();
  const place = (at: number): { line: number; column: number } => {
    const { line } = lines.linePos(at);
    const start = lines.lineStarts[line - 1] ?? 0;
    return { line: Math.max(line, 1), column: encoder.encode(text.slice(start, at)).length + 1 };
  };
  try {
    const parsed = parseAllDocuments(text, {
      schema: 'failsafe', lineCounter: lines, uniqueKeys: false, prettyErrors: false, stringKeys: false, keepSourceTokens: false,
    });
    if (nul >= 0) {
      throw new Refusal(nul, 'a NUL byte', 'text in UTF-8');
    }
    const documents: Document[] = Array.isArray(parsed) ? (parsed as Document[]) : [];
    const feeder = new Feeder(text, place);
    const first = documents[0];
    const error = first?.errors[0];
    if (error !== undefined) {
      throw new Refusal(error.pos[0], error.message, 'YAML or JSON text');
    }
    const second = documents[1];
    if (second !== undefined) {
      throw new Refusal(second.range?.[0] ?? 0, 'a second document', 'one document a file');
    }
    const tree = first !== undefined && first.contents !== null ? feeder.feed(first.contents as Node, 1) : null;
    return { events: feeder.events, tree };
  } catch (error) {
    if (error instanceof Refusal) {
      const { line, column } = place(error.at);
      return diag(line, column, error.message, error.accepted);
    }
    if (error instanceof RangeError) {  // the reader's own stack: nested a few thousand deep
      return diag(0, 0, 'the document is too deep or too large', 'at most 32 levels and 100,000 entries');
    }
    return diag(0, 0, 'not YAML', 'YAML or JSON text');
  }
}
