// SPDX-License-Identifier: MIT
// How numbers are shown: the same factors and the same rounding as on card, sheet and in the terminal (src/shown.c, cli/units.c). A test
// holds them together.
// Foot, pound and pound-force are exact by definition (international yard and pound agreement, 1959; g = 9.80665 m/s^2).

export interface Band { low: number | null; likely?: number | null; high: number | null }

const FOOT = 0.3048;
const POUND = 0.45359237;
const POUND_FORCE = 4.4482216152605;

let imperial = false;
export function setImperial(on: boolean): void {
  imperial = on;
}
export function isImperial(): boolean {
  return imperial;
}

export interface Shown { factor: number; unit: string }

/// A key's unit as it is shown: value in the document = factor * value shown.
export function shown(unit: string): Shown {
  if (imperial) {
    switch (unit) {
      case 'kg': return { factor: POUND, unit: 'lb' };
      case 'm': return { factor: FOOT, unit: 'ft' };
      case 'mm': return { factor: 25.4, unit: 'in' };
      case 'N': return { factor: POUND_FORCE, unit: 'lbf' };
      case 'kN': return { factor: POUND_FORCE / 1000, unit: 'lbf' };
      case 'm/s': return { factor: FOOT, unit: 'ft/s' };
      default: break;
    }
  }
  return { factor: 1, unit: unit === '1' ? '' : unit === 'deg' ? '°' : unit };
}

/// What was typed, in the document's unit. Where it is what the field shows as its lower or upper limit, it is that limit: shown in feet, 0.5 m
/// is 1.6, a little less.
export function typed(text: string, { factor, unit }: Shown, lo: number, hi: number): number {
  const value = Number(text.replace(',', '.'));
  const limit = [lo, hi].find((end) => plain(end / factor, unit) === String(value));
  return limit ?? value * factor;
}

/// The least that is told apart in a unit of feet and pounds: what came from round metres is no finer.
function grain(unit: string, value: number): number {
  switch (unit) {
    case 'ft': return Math.abs(value) < 10 ? 0.1 : 0.5;
    case 'ft/s': return 0.1;
    case 'lb': case 'lbf': return 1;
    default: return 0;
  }
}

/// As it stands in a field: no more digits than a person gave or a slider makes. What has one decimal was typed so, and stays.
export function plain(value: number, unit: string): string {
  const step = imperial ? grain(unit, value) : 0;
  const whole = step > 0 ? Math.round(value / step) * step : 0;
  const given = Math.abs(10 * value - Math.round(10 * value)) < 1e-3;
  return String(Number((whole === 0 || given ? value : whole).toPrecision(imperial ? 4 : 6)));
}

type Round = (value: number) => number;
const HAIR = 1e-6;
const down: Round = (x) => Math.floor(x + HAIR);
const up: Round = (x) => Math.ceil(x - HAIR);

function coarse(value: number, round: Round = Math.round): string {
  const size = Math.abs(value);
  const step = size < 100 ? 1 : size < 1000 ? 5 : size < 10000 ? 10 : 100;
  return (round(value / step) * step).toFixed(0);
}

type Format = (value: number, round?: Round) => string;

function known(value: number | null | undefined, format: Format): string {
  if (value === null || value === undefined || Number.isNaN(value)) {
    return '?';
  }
  return Math.abs(value) > 1e12 ? '–' : format(value);
}

/// Ends of a range go outward, so that it never looks narrower than it is; one below what is shown at all is none.
function spread(band: Band, format: Format, unit: string): string {
  const likely = known(band.likely ?? null, format);
  const gap = unit === '' ? '' : '\u00A0';
  if (known(band.low, format) === known(band.high, format)) {
    return `${likely === '?' ? known(band.low, format) : likely}${gap}${unit}`;
  }
  const range = `${known(band.low, (x) => format(x, down))}–${known(band.high, (x) => format(x, up))}`;
  return `${likely === '?' ? '' : `${likely}${gap}${unit} `}(${range}${likely === '?' ? gap + unit : ''})`;
}

export function force(value: number | null): string {
  const u = shown('N');
  return `${known(value, (x) => coarse(x / u.factor))}\u00A0${u.unit}`;
}

export function forceBand(band: Band): string {
  const u = shown('N');
  return spread(band, (x, round) => coarse(x / u.factor, round), u.unit);
}

export function length(value: number | null, fine = false): string {
  const u = shown('m');
  const digits = fine ? (imperial ? 1 : 2) : imperial ? 0 : 1;
  return `${known(value, (x) => (x / u.factor).toFixed(digits))}\u00A0${u.unit}`;
}

const LONG = 180;  // [min] nobody plans by the minute beyond
const OVER = '>\u00A03\u00A0h';

export function minutes(seconds: number | null): string {
  const text = known(seconds, (s) => {
    const value = s / 60;
    const step = value < 10 ? 0.5 : 1;
    const up = Math.ceil(value / step - HAIR) * step;
    return up > LONG ? OVER : String(up);
  });
  return text === OVER ? text : `${text}\u00A0min`;
}

export function minutesBand(band: Band): string {
  const likely = minutes(band.likely ?? null);
  const [low, high] = [band.low, band.high].map((seconds) => minutes(seconds).replace('\u00A0min', '')) as [string, string];
  const from = likely === OVER && low !== OVER ? `${low}\u00A0min` : low;
  // Without an upper end the raise may never end.
  return `${likely}${band.high === null ? ` (≥\u00A0${from})` : low === high ? '' : ` (${from}–${high})`}`;
}

export function ideal(value: number | null): string {
  return known(value, (x) => (Math.abs(x - Math.round(x)) < 0.005 ? String(Math.round(x)) : x.toFixed(2)));
}

export function advantage(value: number | null): string {
  return known(value, (x) => x.toFixed(1));
}

/// Rounded down: a margin never looks wider than it is.
export function margin(value: number | null): string {
  return known(value, (x) => (Math.floor(x / 0.1 + 1e-9) * 0.1).toFixed(1));
}

/// Rounded up: a demand never looks smaller than it is.
export function share(value: number | null): string {
  return known(value, (x) => (Math.ceil(x / 0.05 - 1e-9) * 0.05).toFixed(2));
}

/// A pull as the weight that it would lift over a wheel without friction, for those who think in kilograms. Rounded up.
export function asWeight(newton: number | null): string {
  return imperial || newton === null || Number.isNaN(newton) ? '' : ` ≈ ${Math.ceil(newton / 9.80665)} kg`;
}

const SENTENCE = /(?<![\w.-])(\d+(?:\.\d+)?)(?:( to | bis | à | a |–)(\d+(?:\.\d+)?))? (kN|kg|N|m)(?![\p{L}\d])/gu;
const TIED = /(\d) (?=(?:k?N|kg|mm?|min|ft|lbf?|s|kJ|%)(?![\p{L}\d’']))/gu;
/// A sentence of the core, which speaks of m, kg, N and kN, in the units of the page (src/said.c). No line breaks between number and unit.
export function inUnits(text: string): string {
  return (!imperial ? text : converted(text)).replace(TIED, '$1\u00A0');
}

function converted(text: string): string {
  return text.replace(SENTENCE, (_all, low: string, between: string | undefined, high: string | undefined, unit: string) => {
    const u = shown(unit);
    const put = (digits: string): string => (Number(digits) / u.factor).toFixed(unit === 'm' ? (digits.split('.')[1] ?? '').length : 0);
    return `${put(low)}${between === undefined || high === undefined ? '' : `${between}${put(high)}`} ${u.unit}`;
  });
}
