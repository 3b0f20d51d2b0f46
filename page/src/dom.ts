// SPDX-License-Identifier: MIT
// Elements made by hand. Text is always text: nothing of a scene is ever read as markup. Only the core's own figures are parsed,
// as an SVG document, and only what a figure may hold is taken over.

import { Rest } from './rest';

/// A decimal point between digits, not within names, dates, versions and addresses (src/said.c has the same rule).
const POINT = /(?<![\w.]|[A-Za-z]-)(\d+)\.(\d+)(?![\d/A-Za-z]|\.\d)/g;
let comma = false;
export function setComma(on: boolean): void {
  comma = on;
}
/// Text as a person reads it: in German, French and Italian numbers have a comma.
export function read(text: string): string {
  return comma && text.includes('.') ? text.replace(POINT, '$1,$2') : text;
}

type Child = Node | string | number | null | undefined | false;
type Attributes = { [name: string]: string | number | boolean | null | undefined | ((event: never) => void) };

export function h<K extends keyof HTMLElementTagNameMap>(tag: K, attributes: Attributes = {}, ...children: Child[]): HTMLElementTagNameMap[K] {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (typeof value === 'function') {
      element.addEventListener(name, value as EventListener);
    } else if (value === true) {
      element.setAttribute(name, '');
    } else if (value !== false && value !== null && value !== undefined) {
      element.setAttribute(name, String(value));
    }
  }
  add(element, ...children);
  return element;
}

export function add(parent: Node, ...children: Child[]): void {
  for (const child of children) {
    if (child !== null && child !== undefined && child !== false) {
      parent.appendChild(child instanceof Node ? child : document.createTextNode(read(String(child))));
    }
  }
}

export function replace(parent: Element, ...children: Child[]): void {
  parent.replaceChildren();
  add(parent, ...children);
}

/// Like replace, but what is there already stays, and only what differs changes: the browser then lays out no more than that. For
/// contents without listeners.
export function settle(parent: Node, ...children: Child[]): void {
  const fresh = document.createDocumentFragment();
  add(fresh, ...children);
  become(parent, fresh);
}

function become(parent: Node, fresh: Node): void {
  let at = parent.firstChild;
  for (const child of Array.from(fresh.childNodes)) {
    const old = at;
    at = old?.nextSibling ?? null;
    if (old === null) {
      parent.appendChild(child);
    } else if (!old.isEqualNode(child)) {
      if (old instanceof Text && child instanceof Text) {
        old.data = child.data;
      } else if (old instanceof Element && child instanceof Element && old.cloneNode().isEqualNode(child.cloneNode())) {
        become(old, child);
      } else {
        parent.replaceChild(child, old);
      }
    }
  }
  while (at !== null) {
    const next: ChildNode | null = at.nextSibling;
    at.remove();
    at = next;
  }
}

/// The box that can be held as high as it is: one that is as wide as there is room, whatever is in it.
function boxOf(node: Text): HTMLElement | null {
  const box = node.parentElement;
  return box !== null && ['DD', 'DIV', 'P'].includes(box.tagName) ? box : null;
}

/// How many letters a text may have in its box as it is: what is left of its only line counts, but for a twentieth.
function roomFor(node: Text, box: HTMLElement | null | undefined): number {
  if (!box) {
    return Infinity;
  }
  const range = document.createRange();
  range.selectNodeContents(node);
  const lines = range.getClientRects();
  const wide = lines.length === 1 ? lines[0]?.width ?? 0 : 0;
  return wide > 0 ? Math.max(node.data.length, Math.floor(0.95 * node.data.length * box.clientWidth / wide)) : node.data.length;
}

const STEADY_MS = 600;  // without another change, after which the boxes are let go

/// Texts that change often in contents that do not: as long as the shape is the same one, only the texts that differ are set. While
/// they change with a slider each stands in a box as high as it is: the browser then lays out no more than that box.
export class Slots {
  private shape = '';
  private nodes: Text[] = [];
  private at = 0;
  private room: number[] = [];  // letters that each box was made for; none while the boxes are free
  private readonly resting = new Rest(STEADY_MS, () => this.free());

  /// @param build what to show; each text that may change goes through slot()  @param sliding whether more is to come at once
  /// @return whether the contents are new
  show(parent: Element, shape: string, texts: string[], build: (slot: () => Text) => Child[], sliding = false): boolean {
    const stays = shape === this.shape && texts.length === this.nodes.length && this.nodes[0]?.isConnected === true;
    if (stays) {
      const said = texts.map(read);
      if (!sliding || said.some((text, i) => text.length > (this.room[i] ?? text.length))) {
        this.free();
      }
      said.forEach((text, i) => {
        const node = this.nodes[i] as Text;
        if (node.data !== text) {
          node.data = text;
        }
      });
    } else {
      this.free();
      this.shape = shape;
      this.nodes = texts.map((text) => document.createTextNode(read(text)));
      this.at = 0;
      replace(parent, ...build(() => this.nodes[this.at++] as Text));
    }
    if (sliding) {
      this.hold();
      this.resting.soon();
    }
    return !stays;
  }

  private hold(): void {
    if (this.room.length === 0) {
      const boxes = this.nodes.map(boxOf);
      const heights = boxes.map((box) => box?.getBoundingClientRect().height ?? 0);
      this.room = this.nodes.map((node, i) => roomFor(node, boxes[i]));
      boxes.forEach((box, i) => {
        if (box !== null) {
          box.style.height = `${heights[i] ?? 0}px`;
          box.classList.add('held');
        }
      });
    }
  }

  private free(): void {
    this.resting.never();
    if (this.room.length > 0) {
      this.room = [];
      this.nodes.map(boxOf).forEach((box) => {
        box?.style.removeProperty('height');
        box?.classList.remove('held');
      });
    }
  }
}

/// Text that may be the same as before: then nothing happens.
export function setText(element: Element, text: string): void {
  const said = read(text);
  const only = element.firstChild;
  if (element.textContent === said) {
    return;
  }
  if (only instanceof Text && element.childNodes.length === 1) {
    only.data = said;  // at less cost than another node
  } else {
    element.textContent = said;
  }
}

const SVG = 'http://www.w3.org/2000/svg';
/// All that a figure of the core is made of. (The page's own policy forbids scripts and handlers besides.)
const STRANGE = ['svg', 'title', 'desc', 'g', 'rect', 'text', 'tspan', 'path', 'line', 'circle', 'ellipse', 'polygon', 'polyline', 'defs', 'pattern', 'clipPath', 'marker']
  .map((name) => `:not(${name})`).join('') + ', [style], [href], [onload], [onclick], [onerror], [onmouseover]';
const parsed = document.createElement('template');

/// A figure of the core as an element; null if it is anything else than a plain drawing. Parsed apart from the page, looked at, then
/// taken over: an SVG that holds other elements is not shown at all.
export function figure(svg: string): SVGSVGElement | null {
  parsed.innerHTML = svg;
  const root = parsed.content.firstElementChild;
  return root !== null && root.namespaceURI === SVG && root.querySelector(STRANGE) === null ? (root as SVGSVGElement) : null;
}

/// A button that a glove can hit.
export function button(label: string, act: () => void, attributes: Attributes = {}): HTMLButtonElement {
  return h('button', { type: 'button', click: act, ...attributes }, label);
}

let serial = 0;
export function freshId(stem: string): string {
  serial += 1;
  return `${stem}-${serial}`;
}
