// SPDX-License-Identifier: MIT
// The core in WebAssembly, under Node: no imports, sound answers, and the same numbers as the native program.
// usage: node smoke.mjs MODULE [NATIVE]   run from the tree's root
import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { readFileSync, readdirSync } from 'node:fs';

const [path, native] = process.argv.slice(2);
const module = new WebAssembly.Module(readFileSync(path));
assert.deepEqual(WebAssembly.Module.imports(module), [], 'the module must import nothing');
const core = new WebAssembly.Instance(module, {}).exports;
core._initialize();

const MAP_BEGIN = 0, MAP_END = 1, LIST_BEGIN = 2, LIST_END = 3, PLAIN = 4, QUOTED = 5;
const CHECK = 0, PLAN = 1, SECTION = 2;
const OK = 0, ERR_INPUT = 2;

function event(kind, text = '') {
  const bytes = new TextEncoder().encode(text);
  const at = core.smoke_alloc(bytes.length + 1);
  new Uint8Array(core.memory.buffer, at, bytes.length).set(bytes);
  assert.equal(core.smoke_event(kind, at, bytes.length), OK);
  core.smoke_free(at);
}

function tell(value) {
  if (Array.isArray(value)) {
    event(LIST_BEGIN);
    value.forEach(tell);
    event(LIST_END);
  } else if (value !== null && typeof value === 'object') {
    event(MAP_BEGIN);
    for (const [key, inner] of Object.entries(value)) {
      event(PLAIN, key);
      tell(inner);
    }
    event(MAP_END);
  } else {
    event(typeof value === 'string' ? QUOTED : PLAIN, String(value));
  }
}

function run(scene, what) {
  assert.equal(core.smoke_begin(), OK);
  tell(scene);
  const status = core.smoke_run(what);
  const bytes = new Uint8Array(core.memory.buffer, core.smoke_text(), core.smoke_text_count());
  return { status, text: new TextDecoder('utf-8', { fatal: true }).decode(bytes) };
}

// Native and wasm differ in the last places of exp, log and hypot (glibc against musl): 1e-12 of a number's size, and a
// residual only has to stay under its bound.
let compared = 0;
function same(ours, theirs, where) {
  if (typeof theirs === 'number' && typeof ours === 'number') {
    const off = Math.abs(ours - theirs);
    const fine = where.endsWith('.residual') ? ours <= 1e-9 && theirs <= 1e-9 : off <= 1e-12 * Math.max(1, Math.abs(theirs));
    assert.ok(fine, `${where}: wasm ${ours}, native ${theirs}`);
    compared++;
  } else if (theirs !== null && typeof theirs === 'object') {
    assert.deepEqual(Object.keys(ours), Object.keys(theirs), where);
    for (const key of Object.keys(theirs)) {
      same(ours[key], theirs[key], `${where}.${key}`);
    }
  } else {
    assert.ok(ours === theirs, `${where}: wasm ${JSON.stringify(ours)?.slice(0, 200)}, native ${JSON.stringify(theirs)}`);
  }
}

// Half a turn over a bar multiplies by 1/eta, by definition of the efficiency.
assert.ok(Math.abs(core.smoke_contact(0, 0.5, 0, Math.PI) - 2) < 1e-15);
assert.equal(core.smoke_contact(0, 2, 0, Math.PI), -1);

const scenes = readdirSync('tests/wasm').filter((name) => name.endsWith('.json'));
assert.ok(scenes.length >= 2);
let planCount = 0;
for (const name of scenes) {
  const scene = JSON.parse(readFileSync(`tests/wasm/${name}`, 'utf8'));
  const check = run(scene, CHECK);
  assert.equal(check.status, OK, check.text);
  const answer = JSON.parse(check.text);
  assert.ok(answer.residual <= 1e-9);
  const figure = run(scene, SECTION);
  assert.equal(figure.status, OK);
  assert.match(figure.text, /^<\?xml|^<svg/);
  const plan = run(scene, PLAN);
  assert.equal(plan.status, OK, plan.text);
  const plans = JSON.parse(plan.text);
  planCount += plans.plans.length;
  if (native) {
    const file = `tests/wasm/${name}`;
    // Exit status 1 says that the answer is no; that is an answer.
    const got = spawnSync(native, ['check', file, '--json', '--lower'], { encoding: 'utf8' });
    assert.ok(got.status <= 1, got.stderr);
    same(answer, JSON.parse(got.stdout), name);
    const planned = spawnSync(native, ['plan', file, '--json', '--contacts', '3'], { encoding: 'utf8', maxBuffer: 1 << 28 });
    assert.ok(planned.status <= 1, planned.stderr);
    same(plans, JSON.parse(planned.stdout), `${name}: plan`);
  }
}

assert.ok(planCount > 0, 'no scene had a plan');

const bad = run({ firnhaul: 1, nonsense: true }, CHECK);
assert.equal(bad.status, ERR_INPUT);
assert.match(bad.text, /nonsense/);

// Again and again: memory must not grow.
const first = JSON.parse(readFileSync(`tests/wasm/${scenes[0]}`, 'utf8'));
for (let i = 0; i < 20; i++) run(first, CHECK);
const before = core.memory.buffer.byteLength;
for (let i = 0; i < 200; i++) run(first, CHECK);
assert.equal(core.memory.buffer.byteLength, before, 'memory grows from run to run');

console.log(`${scenes.length} scenes, ${compared} numbers compared with ${native || 'nothing'}, ${readFileSync(path).length} bytes`);
