// SPDX-License-Identifier: MIT
// A scene as a file: what was stated and nothing else. (The core's own way of writing has every default in it: silence would come
// back as a statement.) YAML, one key a line; what lies deeper is JSON, which is YAML.
import type { Tree, TreeMap } from './core';
import { isMap } from './scene';

const PLAIN = /^(?!(?:true|false|null|yes|no|on|off|y|n)$)[a-z][\w-]*$/i;

function flow(value: Tree): string {
  if (Array.isArray(value)) {
    return `[${value.map(flow).join(', ')}]`;
  }
  if (isMap(value)) {
    return `{${Object.entries(value).map(([key, entry]) => `${word(key)}: ${flow(entry)}`).join(', ')}}`;
  }
  return typeof value === 'string' ? word(value) : JSON.stringify(value);
}

function word(text: string): string {
  return PLAIN.test(text) ? text : JSON.stringify(text);
}

export function toYaml(tree: TreeMap): string {
  return Object.entries(tree).map(([key, value]) => {
    const lines = Array.isArray(value) && value.some(isMap) ? value.map((entry) => `  - ${flow(entry)}`)
      : isMap(value) && Object.keys(value).length > 0 ? Object.entries(value).map(([name, entry]) => `  ${word(name)}: ${flow(entry)}`) : null;
    return lines === null ? `${word(key)}: ${flow(value)}\n` : `${word(key)}:\n${lines.join('\n')}\n`;
  }).join('');
}
