// SPDX-License-Identifier: MIT
// A figure of the core that stays in the page while its text changes: of the new text only what differs goes to the browser, so
// that a frame of an animation costs what moves in it. The core writes a line for an element, and one for each end of a group;
// lines that cannot be followed make the whole figure be parsed anew.
import { figure } from './dom';

const AHEAD = 12;  // lines that may come or go at one place: a label with its leader takes three

/// What a line must share with another to become it: the element's name, of a group's ends everything but where it stands.
function kind(line: string): string {
  return isEnd(line) ? line.replace(/ transform="[^"]*"/, '') : /^<?\w*/.exec(line)?.[0] ?? '';
}

function isEnd(line: string): boolean {
  return line.startsWith('<g') || line.startsWith('</');
}

/// For each new line the old one that it comes from, -1 for none; null when the two have too little in common.
function align(old: string[], fresh: string[]): number[] | null {
  const alike = (o: number, n: number): boolean => old[o] === fresh[n] || kind(old[o] ?? '') === kind(fresh[n] ?? '');
  const plain = (lines: string[], from: number, count: number): boolean => !lines.slice(from, from + count).some(isEnd);
  const from: number[] = [];
  let o = 0;
  while (from.length < fresh.length) {
    const n = from.length;
    let by = 0;
    const goes = (): boolean => alike(o + by, n) && alike(o + by + 1, n + 1);
    const comes = (): boolean => alike(o, n + by) && alike(o + 1, n + by + 1);
    while (by < AHEAD && !(by === 0 ? alike(o, n) : goes() || comes())) {
      by += 1;
    }
    if (by === AHEAD) {
      return null;
    } else if (by === 0) {
      from.push(o);
      o += 1;
    } else if (goes() && plain(old, o, by)) {
      o += by;
    } else if (comes() && plain(fresh, n, by)) {
      from.push(...new Array<number>(by).fill(-1));
    } else {
      return null;
    }
  }
  return o === old.length ? from : null;
}

/// One element by itself, looked at like a whole figure.
function parse(line: string): Element | null {
  return figure(`<svg>${line}</svg>`)?.firstElementChild ?? null;
}

/// Changes an element from one line to another of its kind. @return the element, another one in its place, or null if neither can be
function change(element: Element, old: string, fresh: string): Element | null {
  const a = old.split('"');
  const b = fresh.split('"');
  const last = b.length - 1;
  const tail = (text: string): string => text.slice(text.indexOf('>') + 1, text.lastIndexOf('</'));
  const same = a.length === b.length && b.every((part, i) => i % 2 === 1 || i === last || part === a[i]);
  const texts = element.firstChild instanceof Text && element.childNodes.length === 1;
  if (!same || fresh.includes('&') || !(a[last] === b[last] || texts)) {
    const other = isEnd(fresh) || fresh.startsWith('<svg') ? null : parse(fresh);
    if (other !== null) {
      element.replaceWith(other);
    }
    return other;
  }
  for (let i = 1; i < last; i += 2) {
    if (a[i] !== b[i]) {
      element.setAttribute((b[i - 1] as string).replace(/^.* |=$/g, ''), b[i] as string);
    }
  }
  if (a[last] !== b[last]) {
    (element.firstChild as Text).data = tail(b[last] as string);
  }
  return element;
}

/// A new line after another, or as the first of a group.
function insert(node: Element, before: Element, inside: boolean): void {
  const end = inside ? before.firstChild : before.nextSibling;
  end?.parentNode?.insertBefore(node, end.nextSibling);
  node.after('\n');
}

/// The element that each line begins or ends; none where lines and elements do not go together.
function find(root: SVGSVGElement, lines: string[]): (Element | null)[] {
  const all = [root, ...Array.from(root.querySelectorAll('*'))];
  const open: Element[] = [];
  let used = 0;
  const nodes = lines.map((line) => {
    if (line.startsWith('</')) {
      return open.pop() ?? null;
    }
    const node = line.startsWith('<') ? all[used++] ?? null : null;
    if (node !== null && (node === root || isEnd(line))) {
      open.push(node);
    }
    return node;
  });
  return used === all.length && lines.every((line, i) => line === '' || isEnd(line) || line.startsWith(`<${nodes[i]?.nodeName}`)) ? nodes : [];
}

export class Drawing {
  element: SVGSVGElement | null = null;
  private lines: string[] = [];
  private nodes: (Element | null)[] = [];  // what each line began or ended

  /// @return whether there is a figure; `element` may be another one than before
  show(svg: string): boolean {
    const lines = svg.split('\n');
    if (this.element === null || !this.follow(lines)) {
      this.element = figure(svg);
      this.nodes = this.element === null ? [] : find(this.element, lines);
    }
    this.lines = lines;
    return this.element !== null;
  }

  /// @return false when the figure cannot be changed to these lines; it is then of no use
  private follow(lines: string[]): boolean {
    const from = this.nodes.length === this.lines.length ? align(this.lines, lines) : null;
    if (from === null) {
      return false;
    }
    const stays = new Set(from);
    this.nodes.forEach((node, o) => {
      if (node !== null && !stays.has(o)) {
        node.nextSibling?.remove();  // the end of its line
        node.remove();
      }
    });
    const nodes: (Element | null)[] = [];
    for (const [n, line] of lines.entries()) {
      const o = from[n] as number;
      const old = this.nodes[o] ?? null;
      const node = o < 0 ? parse(line) : old === null || this.lines[o] === line ? old : change(old, this.lines[o] as string, line);
      if (node === null && (o < 0 || old !== null)) {
        return false;
      }
      if (o < 0 && node !== null) {
        insert(node, nodes[n - 1] as Element, (lines[n - 1] as string).startsWith('<g'));
      }
      nodes.push(node);
    }
    this.nodes = nodes;
    return true;
  }
}
