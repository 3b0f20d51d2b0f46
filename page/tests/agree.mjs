// SPDX-License-Identifier: MIT
// The page's module and the native program say the same, to 1e-9 of each number's size: every example, every rig of the examples,
// and random rigs in thousands, through the page's own reader of scenes. And that reader is as strict as the terminal's.
// usage: node agree.mjs MODULE NATIVE [RIGS-PROGRAM [COUNT]]
import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { readFileSync, readdirSync } from 'node:fs';
import { build } from 'esbuild';
import { claim, end, native } from './lib.mjs';

const [modulePath, program, rigs, countText] = process.argv.slice(2);
const here = (name) => new URL(name, import.meta.url).pathname;
const bundled = await build({ stdin: { contents: "export * from './core'; export { parseYaml } from './yaml';", resolveDir: here('../src'), loader: 'ts' }, bundle: true, write: false, format: 'esm' });
const { Ask, Core, Events, parseYaml } = await import(`data:text/javascript;base64,${Buffer.from(bundled.outputFiles[0].text).toString('base64')}`);
const module = new WebAssembly.Module(readFileSync(modulePath));
assert.deepEqual(WebAssembly.Module.imports(module), []);
const core = new Core(module);

const CLOSE = 1e-9;
let compared = 0;
let worst = 0;
let ties = 0;

/// Numbers to 1e-9 of their size, or of the scale of what they are part of; everything else exactly.
function same(ours, theirs, where, scale = 1) {
  if (typeof theirs === 'number' && typeof ours === 'number') {
    if (/residual/.test(where)) {
      assert.ok(ours <= CLOSE && theirs <= CLOSE, where);
      return;
    }
    const off = Math.abs(ours - theirs) / Math.max(scale, Math.abs(theirs));
    // A peak found by steps in time, with sticking and slipping: one unit in the last place may move a slip by a step, and the
    // step's own error is of that size. Seen: 8e-5.
    const stepped = /peak_simulated_N$/.test(where);
    worst = stepped ? worst : Math.max(worst, off);
    compared += 1;
    assert.ok(off <= (stepped ? 1e-3 : CLOSE), `${where}: page ${ours}, native ${theirs}`);
  } else if (theirs !== null && typeof theirs === 'object') {
    assert.deepEqual(Object.keys(ours ?? {}), Object.keys(theirs), where);
    for (const key of Object.keys(theirs)) {
      same(ours[key], theirs[key], `${where}.${key}`, /_N|tension|force/.test(key) ? 1 : scale);
    }
  } else if (/\.limits\.\d+\.state$/.test(where) && ours !== theirs) {
    ties += 1;  // a force that is the same in two states to the last bit but one: which is named first is rounding
  } else {
    assert.equal(ours, theirs, where);
  }
}

function read(text) {
  const parsed = parseYaml(text);
  return 'message' in parsed ? parsed : core.read(parsed.events);
}

function check(text, where, theirs) {
  assert.equal(read(text), null, where);
  same(JSON.parse(core.ask(Ask.check, 1)), theirs, where);
}

/// What a slider shows is part of the whole answer: with its time, and without it before the whole was asked for.
function glances(text, where) {
  assert.equal(read(text), null, where);
  const quick = JSON.parse(core.ask(Ask.check, 3));
  const timed = JSON.parse(core.ask(Ask.check, 2));
  const whole = JSON.parse(core.ask(Ask.check));
  assert.deepEqual(quick.raise, timed.raise, where);
  for (const [key, value] of Object.entries(timed)) {
    if (key === 'raise') {
      Object.entries(value).forEach(([name, figure]) => assert.deepEqual(figure, whole.raise[name], `${where}: ${name}`));
    } else {
      assert.deepEqual(value, whole[key], `${where}: ${key}`);
    }
  }
}

const examples = [...readdirSync('examples'), ...readdirSync('examples/rigs').map((name) => `rigs/${name}`)].filter((name) => name.endsWith('.yaml')).map((name) => `examples/${name}`);

await claim('every example: check, plan, haul and lose agree with the native program', () => {
  assert.ok(examples.length >= 15);
  const known = native(program, ['help']).out;
  for (const file of examples) {
    const text = readFileSync(file, 'utf8');
    assert.equal(read(text), null, file);
    const hasRig = /^rig:/m.test(text);
    if (hasRig) {
      check(text, file, JSON.parse(native(program, ['check', file, '--json', '--lower']).out));
      same(JSON.parse(core.ask(Ask.check)), JSON.parse(native(program, ['check', file, '--json']).out), file);
      glances(text, file);
      for (const [command, what] of [['haul', Ask.haul], ['lose', Ask.lose]]) {
        if (new RegExp(`^${command} `, 'm').test(known)) {
          const got = native(program, [command, file, '--json']);
          assert.ok(got.status <= 1, got.err);
          same(JSON.parse(core.ask(what)), JSON.parse(got.out), `${file}: ${command}`);
        }
      }
    }
    const planned = native(program, ['plan', file, '--json']);
    assert.ok(planned.status <= 1, planned.err);
    same(JSON.parse(core.ask(Ask.plan, -1)).list, JSON.parse(planned.out), `${file}: plan`);
  }
});

await claim('every team: the fall, its chances and the ways to rope up agree with the native program', () => {
  let teams = 0;
  let chosen = 0;
  for (const file of examples) {
    const text = readFileSync(file, 'utf8');
    if (!/^team:/m.test(text)) {
      continue;
    }
    teams += 1;
    assert.equal(read(text), null, file);
    same(JSON.parse(core.ask(Ask.team, 2000, 1)), JSON.parse(native(program, ['team', file, '--json']).out), `${file}: team`);
    for (const what of [Ask.teamMoment, Ask.teamSection, Ask.teamPaths, Ask.teamSheet]) {
      assert.match(core.ask(what, 0), /^<svg/);
    }
    const raises = JSON.parse(core.ask(Ask.teamRaises, 0)).raises;
    assert.equal(raises.length, JSON.parse(core.ask(Ask.team, 0)).start_m.length);
    const compared = native(program, ['team', file, '--choose', '--designs', '100', '--samples', '64', '--json']);
    const begun = core.ask(Ask.designsStart, 100, 64);
    assert.equal(begun === null, compared.status === 2, compared.err);
    if (begun === null) {
      assert.ok(compared.err.includes(core.diag.message));
      continue;
    }
    chosen += 1;
    const { steps } = JSON.parse(begun);
    for (let i = 0; i < steps; i++) {
      assert.notEqual(core.ask(Ask.designsStep, i), null);
    }
    assert.equal(core.ask(Ask.designsStep, steps), null, 'past the last step there is nothing');
    same(JSON.parse(core.ask(Ask.designs)), JSON.parse(compared.out), `${file}: choose`);
    assert.match(core.ask(Ask.designsFigure), /^<svg/);
  }
  assert.ok(teams >= 5 && chosen >= 3, `${teams} teams, ${chosen} with ways to rope up`);
  // What no team can be is refused with its place; odd questions have no answer.
  assert.equal(read(readFileSync('examples/two-person.yaml', 'utf8')), null);
  assert.equal(core.ask(Ask.team, 0), null);
  assert.equal(core.diag.key, 'team');
  assert.equal(read(readFileSync('examples/team-two.yaml', 'utf8')), null);
  for (const what of [Ask.team, Ask.teamMoment, Ask.designsStart, Ask.designsStep]) {
    assert.equal(core.ask(what, NaN), null);
    assert.equal(core.ask(what, -1), null);
    assert.equal(core.ask(what, 1e300), null);
  }
});

await claim('a tree told anew is the same scene', () => {
  for (const file of examples) {
    const parsed = parseYaml(readFileSync(file, 'utf8'));
    assert.equal(core.read(parsed.events), null);
    const yaml = core.ask(Ask.yaml);
    const events = new Events();
    events.tell(parsed.tree);
    assert.equal(core.read(events), null, file);
    assert.equal(core.ask(Ask.yaml), yaml, file);
    // Once more with what is known of it by now, and with one value changed.
    for (const tree of [parsed.tree, parsed.tree, { ...parsed.tree, title: 'told anew' }]) {
      const plain = new Events();
      plain.tell(tree);
      const copied = new Events();
      copied.tellAll(tree);
      assert.deepEqual(copied.done(), plain.done(), file);
    }
  }
});

if (rigs !== undefined && rigs !== '') {
  const wanted = Number(countText ?? 10000);
  await claim(`${wanted} random rigs agree with the native core`, () => {
    const batch = 1000;
    let solved = 0;
    let seen = 0;
    for (let first = 1; seen < wanted; first += batch) {
      const got = spawnSync(rigs, [String(first), String(batch)], { maxBuffer: 1 << 29 });
      assert.equal(got.status, 0, String(got.stderr));
      for (let at = 0; at < got.stdout.length;) {
        const line = got.stdout.indexOf(10, at);
        const [seed, yaml, json] = got.stdout.toString('latin1', at, line).split(' ').map(Number);
        const text = got.stdout.toString('utf8', line + 1, line + 1 + yaml);
        if (json === 0) {
          assert.notEqual(read(text), null, `seed ${seed} is refused`);
          seen += 1;
          at = line + 1 + yaml;
          continue;
        }
        const theirs = JSON.parse(got.stdout.toString('utf8', line + 1 + yaml, line + 1 + yaml + json));
        check(text, `seed ${seed}`, theirs);
        solved += theirs.outcome === 'solved' ? 1 : 0;
        seen += 1;
        at = line + 1 + yaml + json;
      }
    }
    assert.ok(solved > wanted / 4, `only ${solved} of ${seen} rigs were sound`);
    console.log(`     ${solved} of ${seen} sound, ${compared} numbers compared, worst ${worst.toExponential(1)} of its size, ${ties} ties of states`);
    assert.ok(ties < compared / 1e4);
  });
}

// ------------------------------------------------------------------------------------------------------------- strictness

const good = readFileSync('examples/two-person.yaml', 'utf8');
const BROKEN = [
  '', 'x', '[]', '{}', '- 1', 'firnhaul: 2', 'firnhaul: 1', good.replace('depth_m', 'depht_m'), good.replace('mass_kg: 78', 'mass_kg: 78kg'),
  good.replace('count: 6', 'count: 6.5'), good.replace('count: 6', 'count: -1'), good.replace('padded', 'butter'), good.replace('helps: true', 'helps: yes'),
  good.replace('[85, 100]', '[100, 85]'), good.replace('[85, 100]', '[85]'), good.replace('[85, 100]', '{low: 85, high: 100}'), good.replace('mass_kg: 78', 'mass_kg: "78"'),
  good.replace('title:', 'title: &x'), good.replace('title:', 'title: !!str'), good.replace('name: guide', 'name: *x'), `${good}---\nfirnhaul: 1\n`,
  good.replace('slot:', 'slot: {depth_m: 8}\nslot:'), good.replace('{tie: load}', '{tie: nowhere}'), good.replace('after: 5', 'after: 99'), good.replace('after: 5', 'after: 0'),
  good.replace('hand: crew', 'hand: nobody'), good.replace('firnhaul: 1', 'firnhaul: one'), good.replace('turn_deg: 75', 'turn_deg: .nan'), good.replace('turn_deg: 75', 'turn_deg: 1e999'),
  good.replace('turn_deg: 75', 'turn_deg: ~'), good.replace('turn_deg: 75', 'turn_deg: 0x4b'), good.replace('crew:', 'crew: []\nother:'), `${good}\nteam: {}`,
  good.replace('"Velm', '"\u00FCber Velm').replace('cut_m: 0.2', 'cut_m: 9'), `# \u00E4\u00F6\u4E16\u754C\n${good.replace('cut_m: 0.2', 'cut_n: 9')}`,
];
const GOOD = [good, `\uFEFF${good}`, good.replace(/\n/g, '\r\n'), JSON.stringify({ firnhaul: 1, load: { mass_kg: 80 }, slot: { depth_m: 8 }, lip: {}, ground: {} }),
  `--- \n${good}...\n`, good.replace('turn_deg: 75', 'turn_deg: +75.'), good.replace('turn_deg: 75', 'turn_deg: 7.5e1'), good.replace('title:', '"title":'), good.replace('title: "Velm', "title: \"\\u00e9 Velm")];

await claim('the page’s reader takes and refuses what the terminal does, at the same place', () => {
  for (const text of GOOD) {
    const theirs = native(program, ['plan', '-', '--json', '--contacts', '0'], text);
    assert.ok(theirs.status <= 1, theirs.err);
    assert.equal(read(text), null, text.slice(0, 60));
  }
  let places = 0;
  for (const text of BROKEN) {
    const theirs = native(program, ['plan', '-', '--json', '--contacts', '0'], text);
    const ours = read(text);
    assert.equal(ours !== null, theirs.status === 2, `${text.slice(0, 200)}\n${theirs.err}\n${JSON.stringify(ours)}`);
    const at = /^-:(\d+):(\d+): /.exec(theirs.err);
    if (ours !== null && at !== null) {
      assert.deepEqual([ours.line, ours.column], [Number(at[1]), Number(at[2])], `${theirs.err}\n${JSON.stringify(ours)}\n${text.split('\n')[ours.line - 1]}`);
      places += 1;
    }
  }
  assert.ok(places >= 25, `${places} places compared`);
});

await claim('again and again: memory does not grow', () => {
  const team = readFileSync('examples/team-three.yaml', 'utf8');
  const size = () => core.exports.memory.buffer.byteLength;
  const once = () => { read(good); core.ask(Ask.check); core.ask(Ask.section); core.ask(Ask.moved, 0.5, 0.5); core.ask(Ask.haul); core.ask(Ask.ideal); read(team); core.ask(Ask.team, 64); core.ask(Ask.teamMoment, 1); core.ask(Ask.designsStart, 10, 8); };
  for (let i = 0; i < 20; i++) { once(); }
  const before = size();
  for (let i = 0; i < 200; i++) { once(); }
  assert.equal(size(), before);
});

end();
