# SPDX-License-Identifier: MIT
# JSON for machines: it parses, keeps the promised names, and a plan's rig put back in a file and checked gives the same numbers.
. "$2/tests/cli/lib.sh"
cd "$root" || exit 99
if ! command -v node >/dev/null; then
  echo "no node: nothing to read JSON with"
  exit 77
fi

checks=$((checks + 1))
node --input-type=commonjs - "$program" "$work" <<'JS' || fail "see above"
const { spawnSync } = require('child_process');
const fs = require('fs');
const [program, work] = process.argv.slice(2);
let checks = 0, failures = 0;
function ok(condition, what) {
  checks++;
  if (!condition) { failures++; console.error('FAIL: ' + what); }
}
function firnhaul(...args) {
  const r = spawnSync(program, args, { encoding: 'utf8', maxBuffer: 1 << 28 });
  let json = null;
  try { json = JSON.parse(r.stdout); } catch (e) { ok(false, args.join(' ') + ': ' + e.message); }
  return { status: r.status, json };
}
const near = (a, b, tolerance) => Math.abs(a - b) <= tolerance * Math.max(1, Math.abs(b));
const isRange = (r) => r && r.low <= r.high;

const has_rig = (f) => /^rig:/m.test(fs.readFileSync(f, 'utf8'));
const scenes = fs.readdirSync('examples').filter((f) => f.endsWith('.yaml')).map((f) => 'examples/' + f).filter(has_rig);
const rigs = fs.readdirSync('examples/rigs').filter((f) => f.endsWith('.yaml')).map((f) => 'examples/rigs/' + f);
ok(scenes.length >= 8 && rigs.length >= 10, 'too few examples');

for (const file of [...scenes, ...rigs]) {
  const { status, json } = firnhaul('check', file, '--json', '--lower');
  if (!json) continue;
  ok(status === 0 || status === 1, file + ': exit ' + status);
  ok((json.answer === 'no') === (status === 1), file + ': answer ' + json.answer + ' with exit ' + status);
  ok(json.outcome === 'solved' && json.why === '', file + ': ' + json.why);
  ok(json.residual >= 0 && json.residual <= 1e-9, file + ': residual ' + json.residual);
  ok(json.raise.hand_force_N > 0 && isRange(json.raise.hand_force_range_N), file + ': hand force');
  ok(json.raise.hand_force_range_N.low <= json.raise.hand_force_N && json.raise.hand_force_N <= json.raise.hand_force_range_N.high, file + ': likely outside its range');
  // Actual advantage is weight over hand force; friction never gives more than the ideal.
  ok(near(json.actual_advantage * json.raise.hand_force_N, json.weight_N.likely, 1e-9), file + ': actual advantage');
  ok(json.actual_advantage_range.high <= json.ideal_advantage + 1e-9, file + ': better than ideal');
  for (const state of ['raise', 'hold', 'lower']) {
    if (json[state] === null) continue;
    for (const s of json[state].strands) {
      ok(typeof s.rope === 'string' && typeof s.from === 'string' && typeof s.to === 'string', file + ': strand names');
      ok(isRange(s.tension_N) && s.tension_N.low >= 0, file + ': strand ' + s.from + ' ' + s.to + ' ' + state);
    }
    for (const b of json[state].bodies) ok(isRange(b.force_N), file + ': body ' + b.name + ' ' + state);
    for (const g of json[state].grips) ok(g.force_N >= 0, file + ': grip ' + g.name);
    const load = json[state].bodies.find((b) => b.name === 'load');
    ok(near(load.force_N.likely, json.weight_N.likely, 1e-9), file + ': the load hangs on ' + load.force_N.likely + ' while ' + state);
  }
  ok(json.limits.every((l) => l.element && l.source && (l.margin === null || near(l.margin * l.force_N, l.limit_N, 1e-9))), file + ': limits');
}

// Ideal advantages by the method of tensions (the working stands in each file; common practice in any rescue handbook).
const ideals = { direct: 1, 'drop-loop': 2, three: 3, four: 4, 'five-simple': 5, 'five-complex': 5, six: 6, 'nine-one-rope': 9, 'nine-two-ropes': 9, eighteen: 18 };
ok(Object.keys(ideals).length === rigs.length, 'a rig without its ideal advantage');
for (const [name, ideal] of Object.entries(ideals)) {
  const { json } = firnhaul('check', 'examples/rigs/' + name + '.yaml', '--json');
  ok(json && near(json.ideal_advantage, ideal, 1e-12), name + ': ideal ' + (json && json.ideal_advantage) + ', not ' + ideal);
}

// What plan prints stands on its own: put back in a file and checked, it gives the same numbers.
let plans = 0;
for (const file of scenes) {
  const { status, json } = firnhaul('plan', file, '--json');
  if (!json) continue;
  ok(json.kept === json.plans.length && json.searched >= json.sound, file + ': counts');
  ok(status === (json.plans.some((p) => p.possible) ? 0 : 1), file + ': exit ' + status);
  ok((json.missing !== '') === !json.possible, file + ': missing is "' + json.missing + '"');
  const scene = fs.readFileSync(file, 'utf8').replace(/^rig:[^]*/m, '');
  for (const plan of json.plans.slice(0, 12)) {
    const back = work + '/back.yaml';
    fs.writeFileSync(back, scene + 'rig: ' + JSON.stringify(plan.rig) + '\n');
    const again = firnhaul('check', back, '--json').json;
    if (!again) continue;
    plans++;
    const what = file + ': ' + plan.built[0];
    ok(near(again.ideal_advantage, plan.ideal_advantage, 1e-9), what + ' ideal');
    ok(near(again.raise.hand_force_N, plan.hand_force_N, 1e-9), what + ' hand force ' + again.raise.hand_force_N + ' ' + plan.hand_force_N);
    ok(near(again.actual_advantage, plan.actual_advantage, 1e-9), what + ' actual');
    ok(near(again.time_s, plan.time_s, 1e-9), what + ' time');
    ok(again.resets === plan.resets && again.pieces === plan.pieces, what + ' resets or pieces');
    ok(near(again.throw_m, plan.throw_m, 1e-9), what + ' throw');
    ok(near(again.crew_share, plan.crew_share, 1e-9), what + ' share');
    ok((again.worst_margin === null && plan.worst_margin === null) || near(again.worst_margin, plan.worst_margin, 1e-9), what + ' margin');
    ok(near(again.ropes.reduce((sum, r) => sum + r.needed_m, 0), plan.rope_needed_m, 1e-9), what + ' rope');
    ok((again.answer !== 'no') === plan.possible, what + ' possible');
  }
}
ok(plans >= 50, 'only ' + plans + ' plans were put back');

// --pick and --yaml: the same rig, in full and as a scene.
const first = firnhaul('plan', 'examples/two-person.yaml', '--json').json.plans[1];
const picked = firnhaul('plan', 'examples/two-person.yaml', '--pick', '2', '--json').json;
ok(near(picked.raise.hand_force_N, first.hand_force_N, 1e-9), '--pick 2 is another rig');
spawnSync(program, ['plan', 'examples/two-person.yaml', '--pick', '2', '--yaml', '-o', work + '/kept.yaml']);
const kept = firnhaul('check', work + '/kept.yaml', '--json').json;
ok(kept && near(kept.raise.hand_force_N, first.hand_force_N, 1e-9), '--yaml keeps another rig');

// Wishes put their own first.
const least = (list, key) => Math.min(...list.filter((p) => p.possible).map((p) => p[key]));
for (const [prefer, key] of [['pull', 'hand_force_N'], ['time', 'time_s'], ['pieces', 'pieces']]) {
  const list = firnhaul('plan', 'examples/three-on-a-rope.yaml', '--prefer', prefer, '--json').json.plans;
  ok(list[0][key] === least(list, key), '--prefer ' + prefer + ' puts another first');
}

// The catalogue and the schema are JSON too.
const gear = firnhaul('gear', '--json').json;
ok(gear.items.length > 20 && gear.items.every((i) => i.figures.every((f) => isRange(f.value) && f.unit && f.basis)), 'gear');
ok(gear.items.every((i) => i.figures.every((f) => f.source === '' || f.source_text !== '')), 'a source without its text');
ok(firnhaul('gear', 'pulley', '--json').json.items.length === 1, 'gear pulley');
ok(firnhaul('keys', '--schema').json.$schema === 'https://json-schema.org/draft/2020-12/schema', 'schema');

console.log(checks + ' checks of JSON, ' + plans + ' plans put back');
process.exit(failures === 0 ? 0 : 1);
JS
finish
