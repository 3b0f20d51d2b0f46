// SPDX-License-Identifier: MIT
// The page's words in the chosen language, and names of what stands in a scene.
import { en, type MessageKey, type Messages } from './text/en';
import { de } from './text/de';
import { fr } from './text/fr';
import { it } from './text/it';
import { HELP, USUAL } from './text/help';
import { ITEMS, LANGUAGES, QUESTIONS, type Language } from './text/questions';
import type { Key } from './answers';
import { setComma } from './dom';

const TABLES: { readonly [L in Language]: Messages } = { en, de, fr, it };
let language: Language = 'en';

export function setLanguage(wanted: string): void {
  language = LANGUAGES.find((l) => l === wanted) ?? 'en';
  setComma(language !== 'en');
}
export function getLanguage(): Language {
  return language;
}
/// The device's language if the page speaks it.
export function deviceLanguage(): Language {
  const short = (navigator.languages ?? [navigator.language]).map((l) => l.slice(0, 2));
  return short.map((s) => LANGUAGES.find((l) => l === s)).find((l) => l !== undefined) ?? 'en';
}

function fill(text: string, values: readonly (string | number)[]): string {
  return text.replace(/\{(\d)\}/g, (_all, n: string) => String(values[Number(n)] ?? ''));
}

export function t(key: MessageKey, ...values: (string | number)[]): string {
  return fill(TABLES[language][key], values);
}

/// A choice of the core's table by an everyday name; one that is not here goes by the core's name.
export function choiceName(key: string, choice: string): string {
  const name = `${key}_${choice}`;
  return name in en ? t(name as MessageKey) : choice;
}

const column = (): number => LANGUAGES.indexOf(language);

export function question(path: string): string {
  return QUESTIONS[path]?.[column()] ?? path;
}

export function help(key: Key): string {
  return language === 'en' ? key.help : HELP[key.path]?.[column() - 1] ?? key.help;
}

/// What holds where a number is not said, in words: "(the kind's)".
export function usual(key: Key): string {
  return language === 'en' ? key.fallback : USUAL[key.path]?.[column() - 1] ?? key.fallback;
}

export function itemName(name: string): string {
  return ITEMS[name]?.[column()] ?? name;
}

/// A body or a strand's end as people call it.
export function bodyName(name: string): string {
  const block = /^block-(\d+)$/.exec(name);
  if (block !== null) {
    return t('n_block', block[1] ?? '');
  }
  const key = `n_${name}`;
  return key in en ? t(key as MessageKey) : name;
}

let speaker = (text: string, _whole?: boolean): string => text;
/// Who puts the core's own words over.
export function setSpeaker(wanted: (text: string, whole?: boolean) => string): void {
  speaker = wanted;
}

/// A word, a phrase or a name of the core's: "station: toothed-capture", "grip block-1: prusik slips", "at the lip", "one ice screw".
export function said(text: string): string {
  return language === 'en' ? text.replace(/[a-z0-9]+(?:-[a-z0-9]+)+/g, (word) => (word in ITEMS ? word.replaceAll('-', ' ') : word)) : speaker(text);
}

/// Refusals with something of the file's in them; # stands for it.
const REFUSALS = ['a list of # to # maps with the keys #', 'a map with the keys #', 'text of # to # bytes without control characters', "one of the catalogue's: #",
  'no body has the name #', 'no rope of this rig has the name #', 'the key # does not go with #', 'it goes with #', 'the rope # is too short for the rig',
  'at least # m for the strands that carry', 'a rope cannot start with #', 'a rope cannot end with #', 'the grip # is not on the strand that it holds', 'one of #'];

/// A refusal's fixed words in the chosen language; keys, values and what has no words of its own stay. @return null: none fits
function refusal(text: string): string | null {
  const whole = speaker(text, true);
  if (whole !== text) {
    return whole;
  }
  for (const form of REFUSALS) {
    const found = new RegExp(`^${form.replace(/#/g, '(.+?)')}$`).exec(text);
    if (found !== null) {
      let n = 0;
      return speaker(form, true).replace(/#/g, () => found[++n] ?? '');
    }
  }
  return null;
}

/// What is wrong with a scene. What stands behind a colon is the scene's own.
export function saidTrouble(message: string, accepted: string): string {
  const known = language === 'en' ? message : refusal(message);
  if (known !== null) {
    return known;
  }
  if (accepted === 'YAML or JSON text') {
    return `${speaker('not YAML', true)} (${message})`;  // the reader's own words
  }
  const at = message.indexOf(': ');
  return at < 0 ? message : `${refusal(message.slice(0, at)) ?? message.slice(0, at)}${message.slice(at)}`;
}

/// What is accepted instead.
export function saidAccepted(accepted: string): string {
  if (language === 'en' || !accepted.includes(' ')) {
    return accepted;
  }
  const or = speaker('or', true);
  const number = /^(a number|a whole number)(?: in (\S+))? from (\S+) to ([^\s,]+)(?:, or (.*))?$/.exec(accepted);
  if (number !== null) {
    const [, kind = '', unit, low, high, forms] = number;
    return `${speaker(kind, true)}${unit === undefined ? '' : ` (${unit})`}, ${low}–${high}${forms === undefined ? '' : `; ${or} ${forms}`}`;
  }
  return refusal(accepted) ?? (/^\S+(?: or \S+)+$/.test(accepted) ? accepted.replaceAll(' or ', ` ${or} `) : accepted);
}
