// SPDX-License-Identifier: MIT
// The form asks for every key of the core's table, in every language, and its thumbs slide within what the core accepts.
// usage: node tables.mjs MODULE
import assert from 'node:assert/strict';
import { readdirSync, readFileSync } from 'node:fs';
import { build } from 'esbuild';
import { claim, end } from './lib.mjs';

const here = (name) => new URL(name, import.meta.url).pathname;
const contents = `export * from './core'; export * from './answers'; export * from './scene'; export * from './haul'; export * from './units';
export { SLIDES, FORM_KEYS } from './form'; export * from './team_form'; export * from './team_answer'; export { QUESTIONS, ITEMS } from './text/questions'; export { HELP } from './text/help'; export { parseYaml } from './yaml';
export { en } from './text/en'; export { de } from './text/de'; export { fr } from './text/fr'; export { it } from './text/it';`;
const bundled = await build({ stdin: { contents, resolveDir: here('../src'), loader: 'ts' }, bundle: true, write: false, format: 'esm', define: { WORKER_TEXT: '""' }, banner: { js: 'const DOMParser = class {}, document = { createElement: () => ({ setAttribute() {}, addEventListener() {}, appendChild() {} }), createTextNode: () => null }, Node = class {};' } });
const page = await import(`data:text/javascript;base64,${Buffer.from(bundled.outputFiles[0].text).toString('base64')}`);
const core = new page.Core(new WebAssembly.Module(readFileSync(process.argv[2])));
const keys = JSON.parse(core.ask(page.Ask.keys));
const items = JSON.parse(core.ask(page.Ask.gear));

await claim('every key of a scene can be said in the form, the rig and the team apart', () => {
  const plain = keys.filter((k) => !['map', 'list'].includes(k.type) && !/^(firnhaul$|rig\.|team\.|anchors?[.[]|edge\.|load_cell|measure)/.test(k.path)).map((k) => k.path);
  const missing = plain.filter((path) => !page.FORM_KEYS.includes(path));
  assert.deepEqual(missing.filter((path) => /^(title|load|slot|lip|ground|crew|ropes|kit|wet|prefer|reset_s|walk_mps)/.test(path)), []);
  assert.deepEqual(page.FORM_KEYS.filter((path) => !keys.some((k) => k.path === path)), [], 'the form asks for nothing that the core does not know');
});

await claim('every question and help is there in four languages', () => {
  for (const path of page.FORM_KEYS) {
    assert.equal(page.QUESTIONS[path]?.filter((w) => w.trim() !== '').length, 4, path);
    assert.equal(page.HELP[path]?.filter((w) => w.trim() !== '').length, 3, path);
  }
  for (const [name, words] of Object.entries(page.ITEMS)) {
    assert.ok(items.some((i) => i.name === name), `${name} is in the catalogue`);
    assert.equal(words.length, 4);
  }
  for (const [language, table] of Object.entries({ de: page.de, fr: page.fr, it: page.it })) {
    for (const [key, text] of Object.entries(page.en)) {
      const holes = (s) => (s.match(/\{\d\}/g) ?? []).sort().join();
      assert.equal(holes(table[key]), holes(text), `${language}: ${key}`);
    }
  }
});

await claim('a thumb slides within what the core accepts', () => {
  for (const [path, slide] of Object.entries(page.SLIDES)) {
    const key = keys.find((k) => k.path === path);
    assert.ok(key.lo <= slide.from && slide.to <= key.hi && slide.from <= slide.start && slide.start <= slide.to, path);
  }
});

await claim('every key of a team can be said; its thumbs, its words and what a knot holds are the core’s', () => {
  const plain = keys.filter((k) => k.path.startsWith('team.') && !['map', 'list'].includes(k.type)).map((k) => k.path);
  assert.deepEqual(plain.filter((path) => !page.TEAM_KEYS.includes(path)), []);
  assert.deepEqual(page.TEAM_KEYS.filter((path) => !plain.includes(path)), []);
  for (const path of page.TEAM_KEYS) {
    assert.equal(page.QUESTIONS[path]?.filter((w) => w.trim() !== '').length, 4, path);
    assert.equal(page.HELP[path]?.filter((w) => w.trim() !== '').length, 3, path);
  }
  for (const [path, slide] of Object.entries(page.TEAM_SLIDES)) {
    const key = keys.find((k) => k.path === path);
    assert.ok(slide.from <= slide.start && slide.start <= slide.to, path);
    assert.ok(key === undefined || path.endsWith('.count') || (key.lo <= slide.from && slide.to <= key.hi), path);
  }
  const [, lo, hi] = /CATCH_LO = ([\d.]+), CATCH_HI = ([\d.]+)/.exec(readFileSync('src/team_choose.c', 'utf8'));
  assert.deepEqual(page.KNOTS.catch_N, [Number(lo), Number(hi)]);
});

await claim('distances: all alike, one pair, ranges kept', () => {
  const people = [0, 10, 20, 30].map((behind_m) => ({ mass_kg: 80, behind_m }));
  const places = (list) => list.map((p) => p.behind_m);
  assert.deepEqual(places(page.spaced(people, 12, -1)), [0, 12, 24, 36]);
  assert.deepEqual(places(page.spaced(people, 7, 2)), [0, 10, 17, 27]);
  assert.deepEqual(places(page.spaced(people, [9, 11], -1)), [0, [9, 11], [19, 21], [29, 31]]);
  assert.deepEqual(page.apartOf(page.spaced(people, [9, 11], -1), -1), [9, 11]);
  assert.deepEqual(page.apartOf(page.spaced(people, 7, 2), -1), [7, 10]);
  assert.equal(page.apartOf(page.spaced(people, 7, 2), 2), 7);
  assert.deepEqual(places(page.spaced(page.spaced(people, [9, 11], -1), 5, 1)), [0, 5, [14, 16], [24, 26]]);
});

await claim('a team never looks surer than it is', () => {
  const held = { outcome: 'solved', arrested: true, pulled_in: 0 };
  const chance = (share, low) => ({ samples: 2000, nobody_else_in: share, nobody_else_in_range: { low, high: 1 }, unresolved: 0 });
  assert.equal(page.teamVerdict(held, chance(1, 0.998), true), 'yes');
  assert.equal(page.teamVerdict(held, chance(1, 0.985), false), 'likely', 'the first count alone says no yes');
  assert.equal(page.teamVerdict(held, { ...chance(1, 0.998), unresolved: 1 }, true), 'likely');
  assert.equal(page.teamVerdict(held, chance(0.91, 0.89), true), 'perhaps');
  assert.equal(page.teamVerdict(held, null, false), 'perhaps');
  assert.equal(page.teamVerdict(held, null, true), 'likely', 'exact figures are nobody’s');
  for (const not of [{ arrested: false }, { pulled_in: 1 }, { outcome: 'unresolved' }]) {
    assert.equal(page.teamVerdict({ ...held, ...not }, chance(0.99, 0.98), true), 'no');
  }
  assert.deepEqual([0, 0.001, 0.694, 0.9999, 1].map(page.of100), ['0', '< 1', '69', '> 99', '100']);
  assert.equal(page.range100({ low: 0.6734, high: 0.7141 }), '67–72');
  assert.equal(page.lengthBand(5.81, { low: 1.66, high: 20.51 }), '5.8\u00A0m (1.6–20.6)');
  assert.equal(page.lengthBand(null, null), '–');
});

await claim('the start is a scene', () => {
  const events = new page.Events();
  events.tell(page.START);
  assert.equal(core.read(events), null);
});

await claim('the card of every example says pull, crew and time as the page does', () => {
  const files = [...readdirSync('examples'), ...readdirSync('examples/rigs').map((name) => `rigs/${name}`)].filter((name) => name.endsWith('.yaml'));
  let cards = 0;
  for (const units of [0, 1]) {
    page.setImperial(units === 1);
    for (const file of files) {
      const parsed = page.parseYaml(readFileSync(`examples/${file}`, 'utf8'));
      assert.equal(core.read(parsed.events), null, file);
      const [check, sheet] = [page.Ask.check, page.Ask.sheet].map((what) => JSON.parse(core.ask(what, 0, 0, units === 1) ?? 'null'));
      const facts = (sheet?.blocks[0]?.words ?? []).filter((w) => w.voice === 'fact').map((w) => w.text);
      if (facts.length > 0 && check?.outcome === 'solved') {
        const say = (text) => text.replaceAll('\u00A0', ' ');
        cards += 1;
        assert.equal(facts[0], say(page.forceBand({ ...check.raise.hand_force_range_N, likely: check.raise.hand_force_N })), file);
        assert.ok(facts.includes(say(page.minutesBand({ ...check.time_with_rests_range_s, likely: check.time_with_rests_s }))), `${file}: ${facts}`);
        assert.ok(check.crew.force_N.low === null || facts[1].startsWith(`${say(page.forceBand(check.crew.force_N))}: `), `${file}: ${facts}`);
      }
    }
  }
  page.setImperial(false);
  assert.ok(cards > 20, `${cards} cards`);
});

await claim('numbers are shown like the terminal’s: rounded away from comfort', () => {
  assert.equal(page.force(268.02), '270\u00A0N');
  assert.equal(page.forceBand({ low: 185.54, likely: 268.02, high: 395.66 }), '270\u00A0N (185–400)', 'ends go outward');
  assert.equal(page.inUnits('12 m of it, 3 mal, 300 N (180–460), 5 minutes'), '12\u00A0m of it, 3 mal, 300\u00A0N (180–460), 5 minutes');
  assert.equal(page.margin(2.0497), '2.0');
  assert.equal(page.margin(0.99), '0.9');
  assert.equal(page.share(0.8934), '0.90');
  assert.equal(page.minutes(400), '7\u00A0min');
  assert.equal(page.minutes(440), '7.5\u00A0min');
  assert.equal(page.force(null), '?\u00A0N');
  assert.equal(page.minutesBand({ low: 390, likely: 700, high: 1300 }), '12\u00A0min (6.5–22)');
  assert.equal(page.minutesBand({ low: 390, likely: 700, high: null }), '12\u00A0min (≥\u00A06.5)', 'at the worst it may never end');
  assert.equal(page.minutesBand({ low: 780, likely: 1740, high: 36120 }), '29\u00A0min (13–>\u00A03\u00A0h)', 'past three hours nobody counts minutes');
  assert.equal(page.minutesBand({ low: 780, likely: 36000, high: 36120 }), '>\u00A03\u00A0h (13\u00A0min–>\u00A03\u00A0h)');
  assert.equal(page.minutes(180 * 60), '180\u00A0min');
  assert.equal(page.minutes(180 * 60 + 1), '>\u00A03\u00A0h');
  page.setImperial(true);
  assert.equal(page.length(3.048), '10\u00A0ft');   // 10 ft exactly, by definition
  assert.equal(page.force(4.4482216152605 * 50), '50\u00A0lbf');
  for (const key of keys.filter((k) => k.type === 'number')) {
    const as = page.shown(key.unit);
    assert.equal(page.typed(page.plain(key.lo / as.factor, as.unit), as, key.lo, key.hi), key.lo, `${key.path}: the lower limit as the field shows it`);
    assert.equal(page.typed(page.plain(key.hi / as.factor, as.unit), as, key.lo, key.hi), key.hi, `${key.path}: the upper one`);
  }
  assert.equal(page.typed('10', page.shown('m'), 0.5, 200), 3.048, 'what is no limit stays what it is');
  for (const [value, unit, want] of [[70, 'kg', '154'], [8, 'm', '26'], [4, 'm', '13'], [0.4, 'm', '1.3'], [0.2, 'm/s', '0.7'], [300, 'N', '67'], [8.5, 'mm', '0.3346']]) {
    const as = page.shown(unit);
    assert.equal(page.plain(value / as.factor, as.unit), want, `${value} ${unit}`);
  }
  assert.equal(page.plain(26.2, 'ft'), '26.2', 'as it was typed');
  assert.equal(page.inUnits('71 to 386 N there, after 0.20 m, a 6 mm cord'), '16 to 87\u00A0lbf there, after 0.66\u00A0ft, a 6\u00A0mm cord');
  page.setImperial(false);
});

await claim('the verdict never says more than the core', () => {
  const hand = { low: 100, likely: 150, high: 200 };
  assert.equal(page.verdict('yes', hand, { low: 300, likely: 400, high: 500 }, null), 'yes');
  assert.equal(page.verdict('no', hand, { low: 300, likely: 400, high: 500 }, null), 'no');
  assert.equal(page.verdict('unsure', hand, { low: 100, likely: 220, high: 500 }, null), 'likely');
  assert.equal(page.verdict('unsure', hand, { low: 160, likely: 170, high: 500 }, null), 'likely');
  assert.equal(page.verdict('unsure', hand, { low: 160, likely: 170, high: 500 }, { answer: 'no' }), 'perhaps', 'an edge that must be cleared first');
  assert.equal(page.verdict('unsure', hand, { low: 100, likely: 160, high: 500 }, null), 'perhaps');
  assert.equal(page.verdict('unsure', { low: null, likely: null, high: null }, { low: 1, likely: 2, high: 3 }, null), 'perhaps');
});

await claim('a trace falls into pulls; within one everything goes on straight', () => {
  const row = (phase, travel, height, stroke, slack) => ({ phase, hand_travel_m: travel, height_m: height, stroke, slack_m: slack, time_s: travel, hand_force_N: 1, capture_force_N: 0, knots: 0 });
  const trace = [row('start', 0, 0, 0, 0.5), row('take-up', 2, 0, 1, 0.5), row('haul', 6, 1, 1, 1.5), row('knot', 6, 1, 1, 0.2), row('reset', 6, 0.9, 1, 0.2), row('take-up', 6.5, 0.9, 2, 0.2), row('haul', 10, 1.8, 2, 1.1)];
  const pulls = page.pullsOf(trace);
  assert.equal(pulls.length, 2);
  assert.deepEqual(pulls.map((p) => p.base), [0, 6]);
  assert.deepEqual(pulls.map((p) => p.after.length), [2, 0]);
  assert.equal(page.stateAt(pulls[0].rows, 1).height_m, 0);
  assert.equal(page.stateAt(pulls[0].rows, 4).height_m, 0.5);
  assert.equal(page.stateAt(pulls[0].rows, 4).slack_m, 1);
  assert.equal(page.stateAt(pulls[1].rows, 99).height_m, 1.8);
});

end();
