// SPDX-License-Identifier: MIT
// The answer that a page shows before its core runs is the core's own: to the byte the module's where the build put it in, to 1e-9
// where the program did; and the core's own takes its place.
// usage: node first.mjs chromium|firefox PAGE.html MODULE NATIVE
import assert from 'node:assert/strict';
import { mkdtempSync, readdirSync, readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { build } from 'esbuild';
import { assertNoRequests, claim, end, launch, native, open, ready } from './lib.mjs';

const [name, file, modulePath, program] = process.argv.slice(2);
const isFirefox = name === 'firefox';
const source = "export * from './core'; export { briefOf, verdict, verdictAt } from './answers'; export { START, withoutRig } from './scene'; export { parseYaml } from './yaml';";
const bundled = await build({ stdin: { contents: source, resolveDir: new URL('../src', import.meta.url).pathname, loader: 'ts' }, bundle: true, write: false, format: 'esm' });
const { Ask, briefOf, Core, Events, START, parseYaml, verdict, verdictAt, withoutRig } = await import(`data:text/javascript;base64,${Buffer.from(bundled.outputFiles[0].text).toString('base64')}`);
const core = new Core(new WebAssembly.Module(readFileSync(modulePath)));
const folder = mkdtempSync(join(tmpdir(), 'firnhaul-first-'));

function plans(tree, form) {
  const events = new Events();
  events.tell(withoutRig(tree));
  return core.read(events) === null ? core.ask(Ask.plan, -1, form) : null;
}

const carriedIn = (html, id) => new RegExp(`id="${id}">(.*?)</script>`, 's').exec(html)[1];
const numbers = (text) => JSON.stringify(JSON.parse(text), (_key, value) => (typeof value === 'number' ? Number(value.toPrecision(9)) : value));
const EXAMPLES = readdirSync('examples').filter((example) => example.endsWith('.yaml')).filter((example) => {
  const parsed = parseYaml(readFileSync(`examples/${example}`, 'utf8'));
  return !('message' in parsed) && plans(parsed.tree, 2) !== null;
});

/// The page with a scene, as the program writes it.
function pageWith(example) {
  const to = join(folder, `${example}.html`);
  const { status, err } = native(program, ['page', `examples/${example}`, '-o', to]);
  assert.equal(status, 0, err);
  return to;
}

// ------------------------------------------------------------------------------------------------------------ what is carried

await claim('the page carries the answer to its own scene, byte for byte the module’s', () => {
  assert.equal(carriedIn(readFileSync(file, 'utf8'), 'own-answer'), plans(START, 2));
});

await claim('what one line says is a part of the whole answer', () => {
  assert.ok(EXAMPLES.length >= 5, `${EXAMPLES.length} examples`);
  for (const tree of [START, ...EXAMPLES.map((example) => parseYaml(readFileSync(`examples/${example}`, 'utf8')).tree)]) {
    assert.deepEqual(briefOf(JSON.parse(plans(tree, 0))), JSON.parse(plans(tree, 2)));
  }
});

await claim('the word for a rig in the list is the word for it alone, whichever way its crew pulls', () => {
  let toLip = 0;
  for (const tree of [START, ...EXAMPLES.map((example) => parseYaml(readFileSync(`examples/${example}`, 'utf8')).tree)]) {
    const answer = JSON.parse(plans(tree, 0));
    for (const [i, plan] of answer.list.plans.entries()) {
      const events = new Events();
      events.tell({ ...withoutRig(tree), rig: plan.rig });
      assert.equal(core.read(events), null);
      const check = JSON.parse(core.ask(Ask.check, 2));
      const alone = verdict(check.answer, { ...check.raise.hand_force_range_N, likely: check.raise.hand_force_N }, check.crew.force_N, check.over_edge);
      assert.equal(verdictAt(answer, i), plan.possible ? alone : 'no', `${tree.title}: ${i + 1}`);
      toLip += plan.pull_toward === 'lip' ? 1 : 0;
    }
  }
  assert.ok(toLip > 0, 'some rigs are pulled toward the lip');
});

await claim('the program puts the answer to a scene beside it, to 1e-9 the module’s', () => {
  let same = 0;
  for (const example of EXAMPLES) {
    const html = readFileSync(pageWith(example), 'utf8');
    const { tree } = parseYaml(JSON.parse(carriedIn(html, 'start-scene')));
    const carried = carriedIn(html, 'start-answer');
    assert.equal(numbers(carried), numbers(plans(tree, 2)), example);
    same += carried === plans(tree, 2) ? 1 : 0;
  }
  console.log(`${EXAMPLES.length} examples, ${same} to the byte`);
});

// ------------------------------------------------------------------------------------------------------------ what is shown

const browser = await launch(name);
const NO_CORE = () => { WebAssembly.compileStreaming = () => new Promise(() => undefined); };
const SLOT = 'firnhaul.1';

/// The bar before the core runs, which here it never does.
async function barWithoutCore(page) {
  await page.waitForFunction(() => document.getElementById('answer')?.textContent !== '');
  return page.locator('#answer').textContent();
}

for (const example of [null, ...EXAMPLES.slice(0, 3)]) {
  await claim(`${name}: ${example ?? 'the page by itself'}: the first answer is there without the core, and the core’s own is the same`, async () => {
    const at = example === null ? file : pageWith(example);
    const first = await open(browser, at, { isFirefox, init: NO_CORE, wait: false });
    const carried = await barWithoutCore(first.page);
    assert.equal(await first.page.locator('html[data-ready]').count(), 0);
    assert.equal(await first.page.locator('#tabs[inert]').count(), 1, 'nothing can be done yet');
    await first.context.close();
    const { context, page, seen } = await open(browser, at, { isFirefox });
    assert.equal(await page.locator('#answer').textContent(), carried);
    assert.equal(await page.locator('#tabs[inert]').count(), 0);
    assertNoRequests(seen, at);
    await context.close();
  });
}

/// Opens the page with its storage changed, without the core or with it. @return what the bar says
/// @param edit what is done first  @param kept in the scene, then
async function reopened(change, withCore, edit = (page) => page.locator('[data-item="carabiner"] button:last-of-type').click(), kept = '"item":"carabiner","count":9') {
  const { context, page } = await open(browser, file, { isFirefox });
  await edit(page);
  await page.waitForFunction(([slot, part]) => {
    const { scene, answer } = JSON.parse(localStorage.getItem(slot) ?? '{}');
    return scene !== undefined && scene.includes(part) && answer !== null;
  }, [SLOT, kept]);
  const said = await page.locator('#answer').textContent();
  // Once the page is left, and has kept what it keeps.
  await page.addInitScript(([slot, how]) => localStorage.setItem(slot, JSON.stringify({ ...JSON.parse(localStorage.getItem(slot)), ...how })), [SLOT, change]);
  if (!withCore) {
    await page.addInitScript(NO_CORE);
  }
  await page.reload();
  if (withCore) {
    await ready(page);
  }
  const again = await barWithoutCore(page);
  await context.close();
  return { said, again };
}

await claim(`${name}: opened again, a scene of one’s own has its answer before the core runs, and the same from the core`, async () => {
  for (const withCore of [false, true]) {
    const { said, again } = await reopened({}, withCore);
    assert.equal(again, said);
  }
});

await claim(`${name}: what another core said, or what is no answer, is not shown`, async () => {
  for (const change of [{ core: '0' }, { answer: { points: [] } }, { answer: 'yes' }, { answer: null }]) {
    const { again } = await reopened(change, false);
    assert.match(again, /^Searching/, JSON.stringify(change));
  }
});

await claim(`${name}: opened again, a scene without a rig has its answer before the core runs as well`, async () => {
  const { said, again } = await reopened({}, false, async (page) => {
    await page.locator('[data-path="ropes[].length_m"] .said').first().click();
    await page.locator('[data-path="ropes[].length_m"] input.number').first().fill('9');
    await page.locator('[data-path="ropes[].length_m"] input.number').first().press('Tab');
  }, '"length_m":9');
  assert.match(said, /No rig of this kit can do it/);
  assert.equal(again, said);
});

await claim(`${name}: the core’s own answer takes the place of a wrong one`, async () => {
  const band = { low: 1, high: 2 };
  const wrong = { crew: { force_N: { ...band, likely: 1 } }, points: [{ answer: 'yes' }], list: { plans: [{ asks_below: false, ideal_advantage: 77, hand_force_N: 1, hand_force_range_N: band, crew_force_N: { ...band, likely: 1 }, time_s: 1, time_with_rests_s: 1, time_with_rests_range_s: band, over_edge: null }], less_likely: [] } };
  const shown = await reopened({ answer: wrong }, false);
  assert.match(shown.again, /77:1/);
  const { said, again } = await reopened({ answer: wrong }, true);
  assert.equal(again, said);
});

await browser.close();
end();
