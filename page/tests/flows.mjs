// SPDX-License-Identifier: MIT
// Everything a person does with the page, by click, touch and keyboard, at three sizes.
// usage: node flows.mjs chromium|firefox PAGE.html NATIVE
import assert from 'node:assert/strict';
import { readFileSync, writeFileSync, mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { assertNoRequests, claim, end, hands, launch, native, open, ready, settled } from './lib.mjs';

const [name, file, program] = process.argv.slice(2);
const isFirefox = name === 'firefox';
const browser = await launch(name);
const folder = mkdtempSync(join(tmpdir(), 'firnhaul-page-'));
// Every size in every way; Firefox's driver knows no touch, and there each size in one way, the phone in two.
const kinds = ['click', 'touch', 'keyboard'];
const runs = isFirefox ? [['phone', 'keyboard'], ['phone', 'click'], ['tablet', 'click'], ['desktop', 'keyboard']]
  : ['phone', 'tablet', 'desktop'].flatMap((size) => kinds.map((kind) => [size, kind]));

const text = (page, selector) => page.locator(selector).first().textContent();

async function withPage(options, body) {
  const { context, page, seen } = await open(browser, file, { isFirefox, ...options });
  try {
    await body(page, context);
    assertNoRequests(seen, file);
  } finally {
    await context.close();
  }
}

// ------------------------------------------------------------------------------------------------------- the whole way

async function wholeWay(page, use) {
  // The scene: deeper, heavier, without the pulley.
  const bar = await text(page, '#answer');
  assert.match(bar, /Rigs: \d/);
  await use.slide('[data-path="slot.depth_m"] input[type=range]', 0.25);
  assert.notEqual(await text(page, '[data-path="slot.depth_m"] .said'), '8\u00A0m');
  await use.press('[data-item="pulley"] button:first-of-type');
  assert.equal(await text(page, '[data-item="pulley"] .count'), '0');
  await settled(page);
  assert.notEqual(await text(page, '#answer'), bar);
  await use.press('[data-item="pulley"] button:last-of-type');
  assert.equal(await text(page, '[data-item="pulley"] .count'), '1');
  await settled(page);

  // The rigs, ranked by what comes first.
  await use.press('#tab-rigs');
  const pulls = async () => page.locator('.rig').evaluateAll((cards) => cards.map((card) => Number.parseFloat(card.querySelector('dd').textContent)));
  await use.press('#prefer-pull');
  await page.waitForSelector('#prefer-pull[aria-pressed=true]');
  await settled(page);
  const ranked = await pulls();
  assert.ok(ranked.length >= 3);
  assert.deepEqual(ranked, [...ranked].sort((a, b) => a - b), 'least pull first');
  for (const word of await page.locator('.rig .badge').allTextContents()) {
    assert.match(word, /Yes|Likely|Perhaps|No/);
  }
  await use.press('#open-1');

  // One rig: to scale, pulled, reset, changed, taken apart.
  assert.match(await text(page, '#rig h2'), /^Rig 2 of \d+, [\d.]+:1$/);
  await page.waitForSelector('#section svg');
  const still = await page.locator('#section').innerHTML();
  await use.slide('#hand-slider', 0.5);
  assert.notEqual(await page.locator('#section').innerHTML(), still, 'the figure moves with the hand');
  await page.waitForFunction(() => document.querySelector('.haul .fact:nth-child(1) dd').textContent !== '0.00\u00A0m');  // out of sight, it follows later
  await use.press('#play');  // motion is reduced: at once
  await page.waitForFunction(() => /The stroke ends|at the lip|Hands off/.test(document.querySelector('.pulls [role=status]').textContent));
  // Hands off, as often as the core's trace asks for knots, until the second stroke.
  for (let i = 0; i < 6 && !/^2 /.test(await text(page, '.haul .fact:nth-child(4) dd')); i++) {
    await use.press('#reset');
    assert.notEqual(await text(page, '.pulls [role=status]'), '');
    await use.press('#play');
    await page.waitForFunction(() => document.getElementById('play').textContent !== 'Stop');  // where motion cannot be reduced
  }
  assert.match(await text(page, '.haul .fact:nth-child(4) dd'), /^2 /);
  await use.press('#whatif > summary');
  const before = await text(page, '#whatif td:nth-child(3)');
  await use.slide('#whatif input[data-place="lip.friction"]', 0.9);
  await page.waitForFunction((old) => document.querySelector('#whatif td:nth-child(3)').textContent !== old, before);
  assert.match(await text(page, '#whatif tbody td:nth-child(4)'), /^\+\d+ %$/);
  await use.press('#put-back');
  assert.equal(await text(page, '#whatif td:nth-child(3)'), before);
  await page.selectOption('#part', 'body-1');
  assert.match(await text(page, '.part'), /station/);
  assert.match(await text(page, '.part'), /If it lets go.*(Caught by|Nothing catches|does not hang)/s);

  // The steps.
  await use.press('#tab-sheet');
  assert.match(await text(page, '.stepno'), /^Card 1 of/);
  const first = await text(page, '.steptext');
  await use.press('#step-next');
  assert.match(await text(page, '.stepno'), /^Card 2 of/);
  assert.notEqual(await text(page, '.steptext'), first);
  await use.press('#step-back');
  assert.equal(await text(page, '.steptext'), first);

  // Learning: multiples of the pull, two rigs, hidden answers.
  await use.press('#tab-learn');
  const rows = await page.locator('#learn tbody tr').evaluateAll((all) => all.map((row) => Array.from(row.cells).map((cell) => cell.textContent)));
  assert.equal(rows[rows.length - 1][1], '1', 'the pull is once itself');
  assert.equal(rows[rows.length - 1][2], '1');
  const ideal = await text(page, '#learn .fact dd');
  assert.ok(rows.some((row) => row[1] === ideal) || rows.some((row) => row[1] === String(Number(ideal) / 2)), 'the load hangs on as many pulls as the advantage says');
  await use.press('#topic-compare');
  assert.equal(await page.locator('#learn .figures svg').count(), 2);
  await use.press('#topic-quiz');
  const questions = await page.locator('.question').count();
  assert.ok(questions >= 5);
  assert.equal((await page.locator('.reply').allTextContents()).join(''), '', 'answers are hidden');
  await use.press('.question button');
  assert.match(await text(page, '.reply'), /: 1/);
  await use.press('#answer');
  assert.equal(await page.locator('body').getAttribute('data-view'), 'rigs');
}

for (const [size, kind] of runs) {
  await claim(`${name}, ${size}, ${kind}: from the questions to the steps, and back`, () =>
    withPage({ size, touch: kind === 'touch' }, (page) => wholeWay(page, hands(kind, page))));
}

// ------------------------------------------------------------------------------------------------------- what is on screen

await claim(`${name}: nothing is wider than a phone, every control is 44 pixels or more`, () => withPage({ size: 'phone', touch: !isFirefox }, async (page) => {
  for (const view of ['scene', 'rigs', 'rig', 'sheet', 'team', 'learn']) {
    await page.locator(`#tab-${view}`).click();
    const wide = await page.evaluate(() => document.documentElement.scrollWidth);
    assert.ok(wide <= 360, `${view} is ${wide} wide`);
    const small = await page.evaluate(() => Array.from(document.querySelectorAll('button, select, summary, input:not([type=checkbox])'))
      .filter((e) => e.checkVisibility()).map((e) => [e.outerHTML.slice(0, 80), e.getBoundingClientRect()]).filter(([, box]) => box.height > 0 && box.height < 44).map(([html]) => html));
    assert.deepEqual(small, [], `${view}: too small for a glove`);
    assert.match(await text(page, '#head'), /Training aid/);
  }
}));

await claim(`${name}: on more than a phone the figure is the terminal's, byte for byte`, () => withPage({ size: 'tablet' }, async (page) => {
  const scene = readFileSync('examples/two-person.yaml', 'utf8');
  await page.setInputFiles('#file', { name: 'scene.yaml', mimeType: 'text/yaml', buffer: Buffer.from(scene) });
  await page.waitForSelector('#rig #section svg');
  assert.match(await text(page, '#rig h2'), /^The rig in the scene, [\d.]+:1$/);
  const want = native(program, ['check', 'examples/two-person.yaml', '--svg', '-']).out;
  const same = await page.evaluate((svg) => {
    const text = (root) => new XMLSerializer().serializeToString(root).replace(/\s+/g, ' ');
    return text(document.querySelector('#section svg')) === text(new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement);
  }, want);
  assert.ok(same);
}));

await claim(`${name}: a slider moves a range and keeps its width; exact figures and the default are at hand`, () => withPage({}, async (page) => {
  const use = hands('keyboard', page);
  const field = '[data-path="load.mass_kg"]';
  assert.equal(await text(page, `${field} .said`), '70–100\u00A0kg');
  await page.focus(`${field} input[type=range]`);
  await page.keyboard.press('ArrowRight');
  assert.equal(await text(page, `${field} .said`), '71–101\u00A0kg');
  await use.press(`${field} .said`);
  await page.fill(`${field} input.number >> nth=1`, '120');
  await page.keyboard.press('Tab');
  assert.equal(await text(page, `${field} .said`), '71–120\u00A0kg');
  const turn = '[data-path="ground.station_m"]';
  assert.match(await text(page, `${turn} .said`), /^default: 4/);
  await use.press(`${turn} .row.slide button:last-of-type`);
  assert.equal(await text(page, `${turn} .said`), '4.5\u00A0m');
  await use.press(`${turn} .said`);
  await use.press(`${turn} .fine button`);
  assert.match(await text(page, `${turn} .said`), /^default: 4/);
}));

await claim(`${name}: four languages, imperial units, every look`, () => withPage({}, async (page) => {
  const use = hands('click', page);
  await use.press('#open-menu');
  for (const [language, word] of [['de', 'Wer hängt wo?'], ['fr', 'Qui est suspendu, et où ?'], ['it', 'Chi è appeso, e dove?'], ['en', 'Who hangs where?']]) {
    await page.locator(`#set-language-${language}`).click();
    assert.equal(await text(page, '#ask-who'), word);
    assert.equal(await page.locator('html').getAttribute('lang'), language);
    assert.ok(await page.evaluate(() => document.getElementById('menu').matches(':modal')), 'the menu stays above everything');
    const left = await page.evaluate(() => document.body.textContent.match(/\{\d\}|undefined|\[object|crew\[\]|NaN/g));
    assert.equal(left, null);
  }
  await page.locator('#set-units-imperial').click();
  assert.equal(await text(page, '[data-path="slot.depth_m"] .said'), '26\u00A0ft');
  for (const look of ['light', 'dark', 'glare']) {
    await page.locator(`#set-look-${look}`).click();
    assert.equal(await page.locator('html').getAttribute('data-look'), look);
  }
  assert.match(await text(page, '#do-print'), /^Print the card: Rig 1 of \d+, \d+(\.\d+)?:1$/);
  await page.locator('#close-menu').click();
  await settled(page);
  assert.match(await text(page, '#answer'), /lbf/);
}));

await claim(`${name}: figure, notes and steps speak the chosen language, changed in place`, () => withPage({}, async (page) => {
  const spoken = { de: [/Schnitt, maßstäblich/, /Rettung rufen/], fr: [/Coupe, à l'échelle/, /appeler les secours/i], it: [/in scala/, /il soccorso/], en: [/Section, to scale/, /Call for rescue/] };
  for (const [language, [figure, step]] of Object.entries(spoken)) {
    await page.locator('#open-menu').click();
    await page.locator(`#set-language-${language}`).click();
    await page.locator('#close-menu').click();
    await settled(page);
    await page.locator('#tab-rig').click();
    assert.match(await text(page, '#section svg'), figure);
    await page.locator('#tab-sheet').click();
    assert.match(await page.locator('#sheet .step').innerText(), step);
    await page.locator('#tab-rigs').click();
  }
}));

await claim(`${name}: where no rig can be built, the steps say what is left to do; the browser's way back leads through the views`, () => withPage({ size: 'phone' }, async (page) => {
  const use = hands('click', page);
  for (const item of ['pulley', 'toothed-capture', 'prusik', 'prusik', 'prusik']) {
    await use.press(`[data-item="${item}"] button:first-of-type`);
  }
  await settled(page);
  assert.match(await text(page, '#answer'), /No rig/);
  await use.press('#tab-rig');
  assert.match(await text(page, '#rig'), /No rig of this kit raises the load with this crew/);
  // There is still something to learn from.
  await use.press('#tab-learn');
  assert.match(await text(page, '#learn'), /\d became \d/);
  await use.press('#topic-quiz');
  assert.ok(await page.locator('.question').count() >= 5);
  await page.goBack();
  await use.press('#tab-sheet');
  const left = await text(page, '#sheet');
  for (const words of [/What would help/, /Call for rescue first/, /The person on the rope/]) {
    assert.match(left, words);
  }
  // Paper has the scene on it as well, room for date, place and who, and sends nobody to another view.
  await page.evaluate(() => window.dispatchEvent(new Event('beforeprint')));
  const paper = await text(page, '#card');
  for (const words of [/Date, place, who/, /70–100.kg, 8.m down/, /for a short effort/, /Lip \(padded\)/, /Ropes: main 50.m/, /8 x carabiner/, /What would help/, /The person on the rope/]) {
    assert.match(paper, words);
  }
  assert.doesNotMatch(paper, /Choose/);
  await page.goBack();
  assert.equal(await page.locator('body').getAttribute('data-view'), 'rig');
  await page.goBack();
  assert.equal(await page.locator('body').getAttribute('data-view'), 'scene');
  await page.goForward();
  assert.equal(await page.locator('body').getAttribute('data-view'), 'rig');
}));

await claim(`${name}: a number outside the limits is refused, with what is accepted, and nothing changes`, () => withPage({ size: 'phone' }, async (page) => {
  const field = page.locator('[data-path="ropes[].length_m"]').first();
  const before = await field.locator('.said').textContent();
  await field.locator('.said').click();
  await field.locator('input.number').first().fill('6060');
  await field.locator('input.number').first().press('Tab');
  assert.match(await field.locator('.fine .trouble').textContent(), /Not accepted: 6060/);
  assert.equal(await field.locator('.said').textContent(), before);
  await field.locator('input.number').first().fill('60');
  await field.locator('input.number').first().press('Tab');
  assert.equal(await field.locator('.fine .trouble').textContent(), '');
  assert.match(await field.locator('.said').textContent(), /60/);
}));

await claim(`${name}: a course asks for its rigs whatever is in the bags; six to one is less`, () => withPage({ size: 'phone' }, async (page) => {
  const use = hands('click', page);
  await use.press('[data-item="pulley"] button:first-of-type');
  await settled(page);
  await use.press('#tab-learn');
  const ratios = await page.locator('#teach optgroup option').allTextContents();
  assert.deepEqual(ratios, ['2:1', '3:1', '5:1', '6:1', '7:1', '9:1']);
  await page.selectOption('#teach', { label: '6:1' });
  const [, bare, real] = /(\d+) became ([\d.]+)/.exec(await text(page, '#learn .reply'));
  assert.equal(bare, '6');
  assert.ok(Number(real) > 1 && Number(real) < 5, real);
  await use.press('#topic-quiz');
  await use.press('.question button');
  assert.match(await text(page, '.reply'), /^6 : 1/);
}));

await claim(`${name}: what a bend passes on and what it loses is said in one way; a block adds what it grips; course rigs say what they are made of`, () => withPage({ size: 'phone' }, async (page) => {
  for (const [language, line, passes, grips, made] of [['en', /the edge passes on \d+ %, the worst of 3 bends \d+ %/, /passes on (\d+) %, loses (\d+) %/, /the strand that it grips/, /not out of the bags/],
    ['de', /Kante gibt \d+ % weiter/, /gibt (\d+) % weiter, verliert (\d+) %/, /den Strang zusammen, den er klemmt/, /nicht aus den Rucksäcken/],
    ['fr', /le bord transmet \d+ %/, /transmet (\d+) %, perd (\d+) %/, /le brin qu’il serre/, /non de ce qui est dans les sacs/],
    ['it', /il bordo trasmette il \d+ %/, /trasmette il (\d+) %, perde il (\d+) %/, /il ramo che stringe/, /non con quello degli zaini/]]) {
    await page.locator('#open-menu').click();
    await page.locator(`#set-language-${language}`).click();
    await page.locator('#close-menu').click();
    await page.locator('#tab-learn').click();
    await page.selectOption('#teach', { label: '6:1' });
    const said = await page.locator('#learn').innerText();
    assert.match(said, line);
    assert.match(said, grips);
    assert.match(said, made);
    const parts = await page.locator('#learn ul li').allTextContents();
    assert.equal(parts.length, 4, 'the edge and three bends');
    for (const part of parts) {
      const [, on, off] = passes.exec(part);
      assert.equal(Number(on) + Number(off), 100, part);
    }
    assert.doesNotMatch(said, /\bkeeps?\b|behäl|\blässt \d/);
  }
}));

await claim(`${name}: the bar and each rig of the list give a time with its range`, () => withPage({}, async (page) => {
  const range = /([\d.]+)\u00A0min \(([\d.]+)–([\d.]+)\)/;
  await page.locator('#tab-rigs').click();
  const said = [await text(page, '#answer .best'), ...await page.locator('.rig .facts').allTextContents()];
  assert.ok(said.length >= 3);
  for (const line of said) {
    const [, likely, low, high] = range.exec(line).map(Number);
    assert.ok(low < likely && likely < high, line);
  }
}));

await claim(`${name}: nobody to pull, or no rope, is a no that says so`, () => withPage({}, async (page) => {
  const removed = async (label, said) => {
    await page.locator(`[aria-label="Remove: ${label}"]`).click();
    await page.waitForFunction((said) => document.getElementById('answer').textContent.includes(said), said);
    assert.match(await text(page, '#answer .badge'), /No/);
    await page.locator('#tab-rigs').click();
    assert.equal(await page.locator('.rig').count(), 0);
    assert.ok((await text(page, '#rigs h2')).includes(said));
    await page.locator('#tab-scene').click();
  };
  await removed('Person 1', 'Nobody pulls');
  await page.getByRole('button', { name: 'One more person' }).click();
  await page.waitForFunction(() => !document.getElementById('answer').textContent.includes('Nobody pulls'));
  await removed('Rope main', 'No rope is there');
}));

await claim(`${name}: simpler rigs that are less likely stand apart, open like others, and say no everywhere`, () => withPage({}, async (page) => {
  const load = async (yaml) => {
    await page.setInputFiles('#file', { name: 'scene.yaml', mimeType: 'text/yaml', buffer: Buffer.from(yaml) });
    await settled(page);
    await page.locator('#tab-rigs').click();
  };
  const counts = async () => [await page.locator('#rigs ol.rigs:not(.less) > .rig').count(), await page.locator('#rigs ol.less > .rig').count()];
  const scene = (path) => readFileSync(new URL(`../../${path}`, import.meta.url), 'utf8');
  await load(scene('examples/hard-ice.yaml'));
  const [kept, less] = await counts();
  assert.ok(kept > 0 && less > 0 && less <= 3, `${kept}, ${less}`);
  const card = page.locator('#rigs ol.less > .rig').first();
  assert.match(await card.locator('h3').textContent(), new RegExp(`^${kept + 1} `));
  assert.match(await card.locator('.badge').textContent(), /No$/);
  assert.match(await card.locator('.why').textContent(), /the crew lacks [\d.]+\u00A0?\s?\w+; over the ranges given it works in \d+ of 100 cases/);
  assert.match(await text(page, '#rigs > h2'), /^Rigs: /, 'those that work are counted alone');
  await page.locator(`#open-${kept}`).click();
  await page.waitForSelector('#rig #section svg');
  assert.match(await text(page, '#rig h2'), new RegExp(`Rig ${kept + 1}, less likely`));
  assert.match(await page.locator('#rig .badge').first().textContent(), /No$/);
  assert.match(await page.locator('#rig').innerText(), /the crew most likely cannot pull this/);
  await page.locator('#tab-sheet').click();
  await page.waitForSelector('#sheet .step, #sheet .callout');
  await page.locator('#tab-rig').click();
  await page.locator('#rig .head button').first().click();
  assert.match(await text(page, '#rig h2'), new RegExp(`Rig ${kept} of ${kept}`));

  await load(scene('tests/scenes/only-less-likely.yaml'));
  const [none, some] = await counts();
  assert.ok(none === 0 && some > 0, `${none}, ${some}`);
  const says = `No rig at the likely figures; ${some} might do`;
  assert.equal(await text(page, '#rigs > h2'), says);
  assert.match(await text(page, '#answer'), new RegExp(`No.*${says}`));
  await page.locator('#tab-rig').click();
  assert.match(await text(page, '#rig .callout'), /At the likely figures no rig of this kit raises the load/, 'none opens by itself');
  await page.locator('#tab-rigs').click();
  await page.locator('#open-0').click();
  await page.waitForSelector('#rig #section svg');
  assert.match(await text(page, '#rig h2'), /Rig 1, less likely/);
}));

await claim(`${name}: a person who does not answer under an overhang comes first in the steps; silence and help exclude each other`, () => withPage({}, async (page) => {
  const choice = (path) => page.locator(`[data-path="${path}"] select`);
  const ticked = () => page.locator('[data-path="load.helps"] input').isChecked();
  await page.locator('[data-path="load.helps"] input').check();
  await choice('load.responds').selectOption('silent');
  assert.equal(await ticked(), false, 'who is silent does not help');
  assert.equal(await text(page, '#stop'), '', 'silence alone does not stop it');
  await choice('lip.wall').selectOption('overhangs');
  const STOP = /^This person does not answer and the edge hangs over: do not raise yet/;
  assert.match(await text(page, '#stop'), STOP, 'as soon as both are set');
  assert.match(await text(page, '#wall-says'), STOP, 'and where it was set');
  await settled(page);
  assert.match(await text(page, '#answer'), /First read the warning at the top/, 'and where the page is scrolled down');
  const above = async (what) => (await page.locator('#stop').boundingBox()).y < (await page.locator(what).first().boundingBox()).y;
  for (const view of ['scene', 'rigs', 'rig', 'sheet']) {
    await page.locator(`#tab-${view}`).click();
    assert.ok(await page.locator('#stop').isVisible() && await above(`#${view}`), `over all else on ${view}`);
  }
  for (const [language, says] of [['de', /noch nicht heben/], ['en', STOP]]) {
    await page.locator('#open-menu').click();
    await page.locator(`#set-language-${language}`).click();
    await page.locator('#close-menu').click();
    assert.match(await text(page, '#stop'), says);
  }
  await page.locator('#tab-rig').click();
  assert.match(await text(page, '#rig .note'), /does not answer and the edge hangs over: the pull can jam head and chest/);
  await page.locator('#tab-sheet').click();
  const first = page.locator('#sheet .step [class^=voice-]').first();
  assert.match(await first.textContent(), /^This person does not answer and the edge hangs over: do not raise yet/);
  assert.equal(await first.getAttribute('class'), 'voice-warn');
  // Where no rig can be built as well.
  await page.locator('#tab-scene').click();
  await page.locator('[data-path="ropes[].length_m"] .said').first().click();
  await page.locator('[data-path="ropes[].length_m"] input.number').first().fill('9');
  await page.locator('[data-path="ropes[].length_m"] input.number').first().press('Tab');
  await settled(page);
  await page.locator('#tab-sheet').click();
  assert.match(await text(page, '#sheet > :first-child'), STOP, 'before what would help');
  await page.locator('#tab-rigs').click();
  assert.ok(await page.locator('#stop').isVisible() && await above('#rigs .missing'), 'and before what the gear does not do');
  await page.locator('#tab-scene').click();
  await page.locator('[data-path="load.helps"] input').check();
  assert.equal(await choice('load.responds').inputValue(), '', 'who helps is not silent');
  await settled(page);
}));

await claim(`${name}: the tick for help says what it changes, in a scene where it changes rigs and in one where it does not`, () => withPage({}, async (page) => {
  const says = () => text(page, '#helps-says');
  const tick = page.locator('[data-path="load.helps"] input');
  const set = async (value) => {
    await page.locator('[data-path="ropes[].length_m"] input.number').first().fill(value);
    await page.locator('[data-path="ropes[].length_m"] input.number').first().press('Tab');
    await settled(page);
  };
  await page.locator('[data-path="ropes[].length_m"] .said').first().click();
  await page.locator('[data-item="pulley"] button').last().click();
  const loops = [];
  for (const length of ['50', '25']) {
    await set(length);
    await tick.uncheck();
    await settled(page);
    const without = await says();
    await tick.check();
    await settled(page);
    const helped = await says();
    assert.notEqual(helped, without);
    assert.match(helped, /pushes off the wall/);
    assert.match(without, /free head and chest by hand/);
    loops.push(/clip a loop in: these count in full/.test(helped));
    assert.ok(loops.at(-1) || /Changes no pull here: no rig found has a loop/.test(helped), helped);
  }
  assert.deepEqual(loops, [true, false], 'rope for a loop, and too little for one');
}));

await claim(`${name}: an edge that the rope has cut into, by nothing, is doubted: beside the question and in the answer`, () => withPage({}, async (page) => {
  assert.equal(await page.locator('#cut-says').isVisible(), false);
  for (let more = 0; more < 2; more++) {
    await page.locator('button', { hasText: 'One more person' }).click();
  }
  await page.locator('[data-path="lip.surface"] select').selectOption('cut');
  assert.match(await text(page, '#cut-says'), /counts as 0.m: the last half metre/);
  await settled(page);
  await page.locator('#tab-rigs').click();
  await page.locator('#open-0').click();
  assert.match(await page.locator('#rig .answer').innerText(), /the cut counts as 0.m/);
  await page.locator('#tab-scene').click();
  assert.match(await text(page, '#cut-take'), /^Take 0\.2–0\.8.m: a guess, no source$/);
  await page.locator('#cut-take').click();
  assert.equal(await text(page, '[data-path="lip.cut_m"] .said'), '0.2–0.8\u00A0m');
  assert.equal(await page.locator('#cut-says').isVisible(), false);
  await settled(page);
  // With a depth, what it takes to get over it is in the answer: it is not the pull of the raise.
  assert.match(await text(page, '#answer'), /edge to be cleared first/);
  await page.locator('#tab-rigs').click();
  assert.match(await text(page, '#rigs'), /None of these rigs gets the load over the edge as it is for sure/);
  for (const fact of await page.locator('#rigs .fact', { hasText: 'Over the edge' }).allInnerTexts()) {
    assert.match(fact, /jams as it is|as it is, or it jams|N; cleared \d+/);
  }
  assert.equal(await page.locator('#rigs .rig.likely').count(), 0);
  await page.locator('#tab-rig').click();
  assert.doesNotMatch(await page.locator('#rig .answer').innerText(), /counts as 0 m/);
}));

await claim(`${name}: an anchor that a file lists point by point is said to hold, beside the question for its kind; a default is said in words`, () => withPage({}, async (page) => {
  assert.equal(await page.locator('#anchor-says').isVisible(), false);
  for (const option of await page.locator('#scene select option').allTextContents()) {
    assert.doesNotMatch(option, /default: unknown$/);
  }
  await page.setInputFiles('#file', 'examples/anchors/three-screws.yaml');
  await settled(page);
  await page.locator('#tab-scene').click();
  assert.match(await text(page, '#anchor-says'), /point by point: one ice screw, one ice screw, ice thread\./);
}));

await claim(`${name}: a source stands by its title, not by a key`, () => withPage({}, async (page) => {
  await page.locator('#tab-rig').click();
  await page.locator('#rig details.more summary').first().click();
  const sources = await page.locator('#rig details table', { has: page.locator('th', { hasText: 'source' }) }).locator('tbody td:last-child').allTextContents();
  assert.ok(sources.length >= 4);
  assert.ok(sources.some((source) => /EN \d+.*, \p{L}/u.test(source)), sources.join(' | '));
  for (const source of sources) {
    assert.doesNotMatch(source, /^[a-z0-9]+(-[a-z0-9]+)+$/, 'a key');
  }
}));

await claim(`${name}: brake knots that hang there now and those of the trip are told apart beside each`, () => withPage({ size: 'phone' }, async (page) => {
  assert.match(await text(page, '[data-path="ropes[].knots"]'), /hang in the loaded strand now.*asked under Team/);
  await page.locator('#tab-team').click();
  assert.match(await page.locator('#team').innerText(), /say so under Scene, at the rope/);
}));

await claim(`${name}: in feet and pounds nothing that is read keeps its metres or newtons, and a limit as shown is taken`, () => withPage({ size: 'phone' }, async (page) => {
  await page.locator('#open-menu').click();
  await page.locator('#set-units-imperial').click();
  await page.locator('#close-menu').click();
  await settled(page);
  const metric = () => page.evaluate(() => {
    document.querySelectorAll('details').forEach((d) => { d.open = true; });
    const found = [];
    const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    for (let node = walk.nextNode(); node !== null; node = walk.nextNode()) {
      if (/\d[\d.,]*[\u00a0 ](?:m|N|kN|kg)(?![\p{L}\d])/u.test(node.data) && node.parentElement.closest('script, style') === null) {
        found.push(node.data.trim());
      }
    }
    return found;
  });
  for (const view of ['scene', 'rigs', 'rig', 'team', 'learn', 'sheet']) {
    await page.locator(`#tab-${view}`).click();
    if (view === 'team') {
      await page.waitForSelector('#team-sheet svg', { state: 'attached' });
    }
    assert.deepEqual(await metric(), [], view);
  }
  for (let card = 0; card < await page.locator('#jump option').count(); card++) {
    await page.selectOption('#jump', String(card));
    assert.deepEqual(await metric(), [], `card ${card + 1}`);
  }
  await page.locator('#tab-scene').click();
  const depth = page.locator('[data-path="slot.depth_m"]');
  await depth.locator('.said').click();
  const [, least] = /accepted: ([\d.]+)–/.exec(await depth.locator('.fine').textContent());
  await depth.locator('input.number').first().fill(least);
  await depth.locator('input.number').first().press('Tab');
  assert.equal(await depth.locator('.fine .trouble').textContent(), '');
  assert.match(await depth.locator('.said').textContent(), new RegExp(`^${least}`));
}));

await claim(`${name}: the page opens in the device's language`, () => withPage({ locale: 'de-AT' }, async (page) => {
  if (!isFirefox || (await page.evaluate(() => navigator.language)).startsWith('de')) {
    assert.equal(await text(page, '#ask-who'), 'Wer hängt wo?');
  }
}));

await claim(`${name}: gear, losses and a broken file in German, all but the file's own words`, () => withPage({ locale: 'de-AT' }, async (page) => {
  await page.locator('#open-menu').click();
  await page.locator('#set-language-de').click();
  await page.locator('#close-menu').click();
  await settled(page);
  assert.match(await text(page, '[data-item="toothed-capture"]'), /gezahnter Klemmnocke/);
  await page.locator('#tab-rig').click();
  await page.selectOption('#part', 'body-1');
  const part = await text(page, '.part');
  assert.match(part, /Bei: beim Ziehen/);
  assert.doesNotMatch(part, /\b(hauling|station|capture|sheath|memory|lip)\b/);
  for (const [slot, said] of [['depth_m: deep', /Zeile 3, Spalte \d+: slot\.depth_m: keine Zahl: deep; angenommen wird: eine Zahl \(m\), 0\.5–200/],
    ['depth: 9', /dem Schlüssel fehlt die Einheit; angenommen wird: depth_m/], ['[', /kein lesbares YAML \(/]]) {
    await page.setInputFiles('#file', { name: 'scene.yaml', mimeType: 'text/yaml', buffer: Buffer.from(`firnhaul: 1\nload: {mass_kg: 80}\nslot: {${slot}}\nlip: {}\nground: {}\n`) });
    await page.waitForFunction((wanted) => new RegExp(wanted).test(document.getElementById('message').textContent), said.source);
  }
}));

// ------------------------------------------------------------------------------------------------------ a finger on a slider

const DEPTH = '[data-path="slot.depth_m"]';

/// A finger comes down on the slider of the depth, a part of its width from the left, goes by so much, and is lifted.
async function swipe(page, cdp, part, [dx, dy], selector = `${DEPTH} input[type=range]`) {
  await page.locator(selector).evaluate((e) => e.scrollIntoView({ block: 'center' }));
  // A swipe before may still carry the page on: until it stands.
  await page.locator(selector).evaluate(async (e) => {
    for (let still = 0, at = NaN; still < 10; still = e.getBoundingClientRect().y === at ? still + 1 : 0) {
      at = e.getBoundingClientRect().y;
      await new Promise((done) => requestAnimationFrame(done));
    }
  });
  const box = await page.locator(selector).boundingBox();
  const [x, y] = [box.x + box.width * part, box.y + box.height / 2];
  const steps = 10;
  const touch = (type, i) => cdp.send('Input.dispatchTouchEvent', { type, touchPoints: type === 'touchEnd' ? [] : [{ x: x + (dx * i) / steps, y: y + (dy * i) / steps }] });
  await touch('touchStart', 0);
  for (let i = 1; i <= steps && (dx !== 0 || dy !== 0); i++) {
    await touch('touchMove', i);
  }
  await touch('touchEnd', steps);
  await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
}

if (!isFirefox) {  // its driver knows no touch
  await claim(`${name}: a swipe that scrolls leaves the slider it began on as it was; a drag sideways and a tap set it`, () => withPage({ size: 'phone', touch: true }, async (page, context) => {
    const cdp = await context.newCDPSession(page);
    const depth = () => text(page, `${DEPTH} .said`);
    const thumbAt = () => page.locator(`${DEPTH} input[type=range]`).inputValue();
    const before = await depth();
    const value = await thumbAt();
    for (const [part, way] of [[0.85, [0, -150]], [0.85, [0, 150]], [0.5, [25, -160]], [0.2, [-15, -120]]]) {
      await page.evaluate(() => scrollTo(0, 300));
      await page.locator(`${DEPTH} input[type=range]`).evaluate((e) => e.scrollIntoView({ block: 'center' }));
      const from = await page.evaluate(() => scrollY);
      await swipe(page, cdp, part, way);
      assert.equal(await depth(), before, `swiped by ${way}`);
      assert.equal(await thumbAt(), value, `swiped by ${way}`);
      await page.waitForFunction((y) => Math.abs(scrollY - y) > 50, from);  // the page scrolls, if not at once
    }
    // What if: the same thumbs.
    await page.locator('#tab-rig').click();
    await page.locator('#whatif > summary').click();
    const knob = '#whatif input[data-place="lip.friction"]';
    const friction = await page.locator(knob).inputValue();
    await swipe(page, cdp, 0.9, [0, -150], knob);
    assert.equal(await page.locator(knob).inputValue(), friction);
    await swipe(page, cdp, 0.3, [80, 0], knob);
    assert.notEqual(await page.locator(knob).inputValue(), friction);
    await page.locator('#tab-scene').click();
    // Sideways, by a tap, and by a key: it is set.
    await swipe(page, cdp, 0.2, [100, 6]);
    const dragged = Number.parseFloat(await depth());
    assert.ok(dragged > 15, `dragged to ${dragged} m`);
    await swipe(page, cdp, 0.9, [0, 0]);
    assert.ok(Number.parseFloat(await depth()) > 33, `tapped to ${await depth()}`);
    await page.focus(`${DEPTH} input[type=range]`);
    const tapped = Number.parseFloat(await depth());
    await page.keyboard.press('ArrowLeft');
    assert.equal(Number.parseFloat(await depth()), tapped - 0.5);
  }));
}

await claim(`${name}: a finger that the browser takes for scrolling sets nothing, even where it slanted first`, () => withPage({ size: 'phone' }, async (page) => {
  const before = await text(page, `${DEPTH} .said`);
  /// What a browser tells of a finger, event by event: [kind, x, y], and to where its own slider follows.
  const tell = (events) => page.locator(`${DEPTH} input[type=range]`).evaluate(async (e, all) => {
    for (const [kind, x, y, value] of all) {
      e.dispatchEvent(new PointerEvent(kind, { pointerId: 7, pointerType: 'touch', clientX: x, clientY: y, bubbles: true }));
      if (value !== undefined) {
        e.value = value;
        e.dispatchEvent(new Event('input', { bubbles: true }));
      }
    }
    await new Promise((done) => setTimeout(done));
    await new Promise((done) => setTimeout(done));
    return e.value;
  }, events);
  assert.equal(await tell([['pointerdown', 200, 300, 34], ['pointermove', 201, 290], ['pointercancel', 201, 280, 35]]), '8');
  assert.equal(await text(page, `${DEPTH} .said`), before);
  assert.equal(await tell([['pointerdown', 200, 300, 34], ['pointermove', 212, 295, 36], ['pointercancel', 214, 270]]), '8');
  assert.equal(await text(page, `${DEPTH} .said`), before);
  assert.equal(await tell([['pointerdown', 200, 300, 34], ['pointermove', 220, 301, 36], ['pointerup', 220, 301]]), '36');
  assert.match(await text(page, `${DEPTH} .said`), /^36/);
}));

// ------------------------------------------------------------------------------------------------------------- bad input

await claim(`${name}: a broken file says where and what, and the scene stays`, () => withPage({}, async (page) => {
  const use = hands('keyboard', page);
  await use.press('[data-path="slot.depth_m"] .row.slide button:last-of-type');
  await settled(page);
  const depth = await text(page, '[data-path="slot.depth_m"] .said');
  const good = readFileSync('examples/two-person.yaml', 'utf8');
  const broken = [
    [good.replace('depth_m: 8', 'depth_m: 8888'), /line 7, column 19.*slot\.depth_m/],
    [good.replace('depth_m', 'depht_m'), /line 7, column 10.*depht_m.*depth_m/],
    [good.replace('title:', 'title: &a'), /line 5, column \d+.*anchor/],
    ['a: [1, 2', /line \d+, column \d+/],
    ['firnhaul: 1\n---\nfirnhaul: 1\n', /line \d+, column \d+.*second document/],
    ['[]', /firnhaul|map/],
    ['', /accepted/],
    [`x: ${'['.repeat(40)}${']'.repeat(40)}`, /too deep/],
    [`x: ${'['.repeat(100000)}`, /too deep|line/],
    ['x'.repeat(1024 * 1024 + 10), /too large/],
  ];
  for (const [body, message] of broken) {
    await page.setInputFiles('#file', { name: 'bad.yaml', mimeType: 'text/yaml', buffer: Buffer.from(body) });
    await page.waitForFunction((source) => new RegExp(source, 's').test(document.getElementById('message').textContent), message.source)
      .catch(async () => assert.match(await text(page, '#message'), message));
    assert.equal(await text(page, '[data-path="slot.depth_m"] .said'), depth);
    await page.locator('#message button').click();
  }
  await page.setInputFiles('#file', { name: 'bytes.yaml', mimeType: 'text/yaml', buffer: Buffer.from([0x61, 0xff, 0xfe]) });
  await page.waitForFunction(() => /UTF-8/.test(document.getElementById('message').textContent));
}));

await claim(`${name}: a link carries the scene; a broken one says so, and the scene stays`, () => withPage({}, async (page, context) => {
  const use = hands('keyboard', page);
  for (let i = 0; i < 4; i++) {
    await use.press('[data-path="slot.depth_m"] .row.slide button:last-of-type');
  }
  const depth = await text(page, '[data-path="slot.depth_m"] .said');
  await use.press('#open-menu');
  await use.press('#do-share');
  await page.waitForSelector('#link');
  const link = await page.inputValue('#link');
  assert.match(link, /#z=[\w-]+$/);
  assert.match(await text(page, '#menu'), /opens on this device only/, 'where the link is read');
  const other = await context.newPage();
  await other.goto(link);
  await ready(other);
  assert.equal(await text(other, '[data-path="slot.depth_m"] .said'), depth);
  assert.ok(!other.url().includes('#'), 'the fragment is used up');
  await other.evaluate(() => { location.hash = '#z=broken!'; });
  await other.waitForFunction(() => /no scene that can be read/.test(document.getElementById('message').textContent));
  assert.equal(await text(other, '[data-path="slot.depth_m"] .said'), depth);
  // A sound packet with an unsound scene.
  await other.evaluate(async () => {
    const bytes = new Uint8Array(await new Response(new Blob(['{"firnhaul": 1, "load": {"mass_kg": "many"}}']).stream().pipeThrough(new CompressionStream('deflate-raw'))).arrayBuffer());
    location.hash = `#z=${btoa(String.fromCharCode(...bytes)).replace(/\+/g, '-').replace(/\//g, '_').replace(/=+$/, '')}`;
  });
  await other.waitForFunction(() => /mass_kg/.test(document.getElementById('message').textContent));
  assert.equal(await text(other, '[data-path="slot.depth_m"] .said'), depth);
  // A small link that unfolds into a hundred megabytes is cut off.
  await other.evaluate(async () => {
    const bytes = new Uint8Array(await new Response(new Blob([new Uint8Array(100 << 20)]).stream().pipeThrough(new CompressionStream('deflate-raw'))).arrayBuffer());
    let raw = '';
    for (const b of bytes) { raw += String.fromCharCode(b); }
    location.hash = `#z=${btoa(raw).replace(/\+/g, '-').replace(/\//g, '_').replace(/=+$/, '')}`;
  });
  await other.waitForFunction(() => /no scene that can be read/.test(document.getElementById('message').textContent));
}));

await claim(`${name}: a page killed in the middle of an edit comes back with it`, async () => {
  const { context, page, seen } = await open(browser, file, { isFirefox });
  const use = hands('keyboard', page);
  for (let i = 0; i < 6; i++) {
    await use.press('[data-path="slot.depth_m"] .row.slide button:last-of-type');
  }
  await use.press('#tab-rigs');
  await use.press('#open-2');
  await page.waitForFunction(() => JSON.parse(localStorage.getItem('firnhaul.1') ?? '{}').view === 'rig');
  const rope = await text(page, '#rig .answer');
  const depth = await text(page, '[data-path="slot.depth_m"] .said');
  await page.close();  // no word of farewell
  const again = await context.newPage();
  await again.goto(page.url());
  await ready(again);
  assert.equal(await text(again, '[data-path="slot.depth_m"] .said'), depth);
  assert.equal(await again.locator('body').getAttribute('data-view'), 'rig');
  assert.equal(await text(again, '#rig .answer'), rope);
  assertNoRequests(seen, file);
  await context.close();
});

for (const [how, init] of [
  ['refused', () => { Object.defineProperty(window, 'localStorage', { get() { throw new DOMException('no', 'SecurityError'); } }); }],
  ['full', () => { Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError'); }; }],
  ['spoiled', () => { try { localStorage.setItem('firnhaul.1', '{"scene": "{[", "seed": "", "settings": {"language": 7}}'); } catch { /* not there yet */ } }],
]) {
  await claim(`${name}: with storage ${how} it still works`, () => withPage({ init }, async (page) => {
    const use = hands('keyboard', page);
    await use.press('[data-path="slot.depth_m"] .row.slide button:last-of-type');
    assert.equal(await text(page, '[data-path="slot.depth_m"] .said'), '8.5\u00A0m');
    await settled(page);
    if (how !== 'spoiled') {
      await page.waitForFunction(() => /does not let the page keep/.test(document.getElementById('message').textContent));
    }
  }));
}

/// Every rig of the list stands in the figure, which is drawn when it is opened.
async function drawsAll(page) {
  await page.locator('#tab-rigs').click();
  assert.equal(await page.locator('#rigs .paper svg').count(), 0);
  await page.locator('#rigs details.more summary').click();
  await page.waitForSelector('#rigs .paper svg');
  const rigs = await page.locator('#rigs ol.rigs:not(.less) li.rig').count();
  assert.ok(rigs > 1);
  assert.equal(await page.locator('#rigs .paper g[data-plan]').count(), rigs);
}

await claim(`${name}: the figure of all rigs is drawn when it is looked at`, () => withPage({}, drawsAll));

await claim(`${name}: without workers it still answers`, () => withPage({ init: () => { window.Worker = undefined; } }, async (page) => {
  assert.match(await text(page, '#answer'), /Rigs: \d/);
  await drawsAll(page);
}));

await claim(`${name}: scene text never becomes markup`, () => withPage({}, async (page) => {
  const evil = '</script><img src=x onerror=window.hit=1><svg onload=window.hit=1>&amp;"\'';
  const scene = readFileSync('examples/two-person.yaml', 'utf8').replace(/^title:.*$/m, `title: ${JSON.stringify(evil)}`).replace('name: guide', `name: ${JSON.stringify('<b onmouseover=hit=1>x</b>')}`)
    .replaceAll(/\bmain\b/g, "'<i>r</i>'").replaceAll('tractor', "'<u>t</u>'");
  await page.setInputFiles('#file', { name: 'evil.yaml', mimeType: 'text/yaml', buffer: Buffer.from(scene) });
  await page.waitForSelector('#rig #section svg');
  assert.match(await text(page, '#section svg title'), /onerror/);
  for (const view of ['scene', 'rigs', 'rig', 'sheet', 'team', 'learn']) {
    await page.locator(`#tab-${view}`).click();
    const found = await page.evaluate(() => [document.querySelectorAll('main img, main script, main b[onmouseover], main i, main u, main foreignObject').length, window.hit]);
    assert.deepEqual(found, [0, isFirefox ? found[1] : undefined]);
    assert.equal(found[1] ?? null, null);
  }
  await page.evaluate(() => window.dispatchEvent(new Event('beforeprint')));
  assert.match(await text(page, '#card'), /onerror/);
  assert.equal(await page.locator('#card img').count(), 0);
}));

await claim(`${name}: the program puts a scene in the page, whatever its title`, async () => {
  const evil = '</script><script>window.hit=1</script><!--';
  const scene = readFileSync('examples/two-person.yaml', 'utf8').replace(/^title:.*$/m, `title: ${JSON.stringify(evil)}`);
  const written = join(folder, 'with-scene.html');
  const got = native(program, ['page', '-', '-o', written], scene);
  assert.equal(got.status, 0, got.err);
  const { context, page, seen } = await open(browser, written, { isFirefox });
  assert.equal(await page.inputValue('[data-path="title"] input'), evil);
  assert.equal(await page.evaluate(() => window.hit ?? null), null);
  await page.locator('#tab-rig').click();
  assert.match(await text(page, '#rig h2'), /^The rig in the scene, [\d.]+:1$/);
  assertNoRequests(seen, written);
  await context.close();
});

await claim(`${name}: what is saved is a scene that the terminal takes`, () => withPage({ size: 'desktop' }, async (page) => {
  await page.locator('#tab-rigs').click();
  await page.locator('#open-1').click();
  let yaml;
  await page.evaluate(() => {
    const create = URL.createObjectURL;
    URL.createObjectURL = (blob) => { void blob.text().then((body) => { window.saved = body; }); return create(blob); };
  });
  await page.locator('#open-menu').click();
  await page.locator('#do-save').click();
  await page.waitForFunction(() => window.saved !== undefined);
  yaml = await page.evaluate(() => window.saved);
  const written = join(folder, 'saved.yaml');
  writeFileSync(written, yaml);
  const got = native(program, ['check', written, '--json']);
  assert.ok(got.status <= 1, got.err);
  const pull = JSON.parse(got.out).raise.hand_force_N;
  const shown = Number.parseFloat(await text(page, '#rig .answer dd'));
  assert.ok(Math.abs(shown - pull) <= 2.5 + 1e-9, `${shown} against ${pull}`);
  await page.setInputFiles('#file', written);
  await page.waitForFunction(() => document.querySelector('#rig h2').textContent.startsWith('The rig in the scene'));
}));

await claim(`${name}: a saved scene says what was stated and no more; it says that it was saved; opening it can be taken back`, () => withPage({ size: 'phone' }, async (page) => {
  await page.evaluate(() => {
    const create = URL.createObjectURL;
    URL.createObjectURL = (blob) => { void blob.text().then((body) => { window.saved = body; }); return create(blob); };
  });
  const said = async () => page.locator('#scene .said, #scene select').evaluateAll((all) => all.map((e) => (e instanceof HTMLSelectElement ? e.value : e.textContent)));
  const odd = '1.5: "a" – #b';
  await page.locator('details[data-key="who-0"] > summary').click();
  await page.locator('[data-path="title"] input').fill(odd);
  await page.locator('[data-path="title"] input').press('Tab');
  await page.locator('[data-path="lip.cut_m"] .row.slide button:last-of-type').click();
  await settled(page);
  const before = await said();
  await page.locator('#open-menu').click();
  await page.locator('#do-save').click();
  await page.waitForFunction(() => window.saved !== undefined);
  assert.match(await text(page, '#message'), /^Saved as 1-5-a-b\.yaml/);
  const yaml = await page.evaluate(() => window.saved);
  assert.doesNotMatch(yaml, /station_m|posture|wall|responds/, 'no default');
  const written = join(folder, 'stated.yaml');
  writeFileSync(written, yaml);
  const got = native(program, ['plan', written, '--json']);
  assert.ok(got.status <= 1, got.err);
  assert.equal(JSON.parse(got.out).title ?? odd, odd);
  // Another scene, then this one again: what was silence is silence.
  await page.setInputFiles('#file', 'examples/two-person.yaml');
  await page.waitForSelector('#bring-back');
  assert.notDeepEqual(await said(), before);
  await page.locator('#bring-back').click();
  await settled(page);
  assert.deepEqual(await said(), before, 'brought back');
  await page.locator('#open-menu').click();
  page.once('dialog', (dialog) => void dialog.accept());
  await page.locator('#do-fresh').click();
  await settled(page);
  await page.setInputFiles('#file', written);
  await page.waitForFunction((title) => document.querySelector('[data-path="title"] input').value === title, odd);
  await settled(page);
  assert.deepEqual(await said(), before, 'from the file');
}));

await claim(`${name}: the example is called one as long as it is, also after a reload; one's own scene never`, () => withPage({ size: 'phone' }, async (page) => {
  const both = async () => [/^.*Example\. /.test(await text(page, '#answer')), await page.locator('#example-says').isVisible()];
  assert.deepEqual(await both(), [true, true]);
  await page.waitForFunction(() => localStorage.getItem('firnhaul.1') !== null);
  await page.reload();
  await ready(page);
  assert.deepEqual(await both(), [true, true], 'untouched, after a reload');
  await page.locator('[data-path="slot.depth_m"] .row.slide button:last-of-type').click();
  await settled(page);
  assert.deepEqual(await both(), [false, true], 'one figure is one’s own, the others are the example’s');
  await page.setInputFiles('#file', 'examples/soft-snow.yaml');
  await page.locator('#tab-scene').click();
  await settled(page);
  assert.deepEqual(await both(), [false, false]);
  await page.evaluate(() => window.dispatchEvent(new Event('pagehide')));
  await page.reload();
  await ready(page);
  assert.deepEqual(await both(), [false, false], 'one’s own, after a reload');
}));

await claim(`${name}: an exact figure that is turned round or refused says so, and what was said can be unsaid in sight`, () => withPage({ size: 'phone' }, async (page) => {
  const field = '[data-path="lip.turn_deg"]';
  await page.locator('details[data-key="edge-0"] > summary').click();
  assert.ok(!await page.locator(`${field} .unsay`).isVisible(), 'nothing said, nothing to unsay');
  const silent = await text(page, `${field} .said`);
  await page.locator(`${field} .said`).click();
  const [from, to] = [page.locator(`${field} input.number`).first(), page.locator(`${field} input.number`).last()];
  const type = async (input, value) => { await input.fill(value); await input.press('Tab'); };
  await type(from, '90');
  await type(to, '60');
  assert.match(await text(page, `${field} .fine .trouble`), /Turned round: 60–90/);
  assert.match(await text(page, `${field} .said`), /^60–90/);
  await type(from, '-5');
  assert.match(await text(page, `${field} .fine .trouble`), /Not accepted: -5/);
  assert.match(await text(page, `${field} .said`), /^60–90/);
  await page.locator(`${field} .unsay`).click();
  assert.equal(await text(page, `${field} .said`), silent);
  assert.ok(!await page.locator(`${field} .unsay`).isVisible());
}));

for (const kind of isFirefox ? ['click'] : ['touch', 'keyboard']) {
  await claim(`${name}, ${kind}: the last change of any field is taken back, a press or a drag at a time, and said`, () => withPage({ size: 'phone', touch: kind === 'touch' }, async (page) => {
    const use = hands(kind, page);
    assert.ok(!await page.locator('#undo').isVisible(), 'nothing to take back');
    const depth = '[data-path="slot.depth_m"]';
    const example = await text(page, '#answer');
    if (kind === 'keyboard') {
      await page.locator(`${depth} input[type=range]`).focus();
      await page.keyboard.press('End');
    } else {
      await use.slide(`${depth} input[type=range]`, 0.9);
    }
    assert.notEqual(await text(page, `${depth} .said`), '8\u00A0m', 'a stray tap');
    assert.equal(await page.locator('#undo').getAttribute('aria-label'), 'Undo: How far down?');
    const box = await page.locator('#undo').boundingBox();
    assert.ok(box.x >= 0 && box.x + box.width <= 360 && box.y + box.height <= (await page.locator('#tabs').boundingBox()).y + 1, 'in sight');
    await use.press('#undo');
    assert.equal(await text(page, `${depth} .said`), '8\u00A0m');
    assert.match(await text(page, '#undone[role=status]'), /How far down\?/);
    assert.ok(!await page.locator('#undo').isVisible());
    assert.notEqual(await page.evaluate(() => document.activeElement.id), '', 'the focus is not lost');
    await settled(page);
    assert.equal(await text(page, '#answer'), example, 'the example again');
    // A choice, a piece of gear, a person more, a choice unsaid: back one by one.
    await page.selectOption('[data-path="lip.surface"] select', 'ice');
    await use.press('[data-item="prusik"] button:last-of-type');
    await use.press('#scene button:text-is("One more person")');
    assert.equal(await page.locator('[data-path="crew[].mass_kg"]').count(), 2);
    assert.equal(await page.locator('#undo').getAttribute('aria-label'), 'Undo: Who can pull?');
    await use.press('#undo');
    assert.equal(await page.locator('[data-path="crew[].mass_kg"]').count(), 1);
    assert.equal(await page.locator('#undo').getAttribute('aria-label'), `Undo: ${await text(page, '[data-item="prusik"] b')}`);
    await use.press('#undo');
    assert.equal(await text(page, '[data-item="prusik"] .count'), '3');
    await use.press('[data-path="lip.surface"] .unsay');
    assert.equal(await page.locator('[data-path="lip.surface"] select').inputValue(), '');
    assert.ok(!await page.locator('[data-path="lip.surface"] .unsay').isVisible(), 'nothing said, nothing to unsay');
    await use.press('#undo');
    assert.equal(await page.locator('[data-path="lip.surface"] select').inputValue(), 'ice');
    await use.press('#undo');
    assert.equal(await page.locator('[data-path="lip.surface"] select').inputValue(), 'padded');
    // The team's as well; another scene has nothing to take back.
    await use.press('#tab-team');
    const snow = page.locator('[data-path="team.snow"]');
    const before = await snow.locator('select').inputValue();
    await page.selectOption('[data-path="team.snow"] select', 'ice');
    await use.press('#undo');
    assert.equal(await snow.locator('select').inputValue(), before);
    await page.selectOption('[data-path="team.snow"] select', 'ice');
    await page.setInputFiles('#file', 'examples/soft-snow.yaml');
    await page.waitForSelector('#bring-back');
    await use.press('#tab-scene');
    assert.ok(!await page.locator('#undo').isVisible());
  }));
}

if (!isFirefox) {
  await claim('chromium: the card is printed to PDF, with caution, answer and steps', () => withPage({}, async (page) => {
    await page.locator('#tab-rig').click();
    const pdf = await page.pdf({ format: 'A4' });
    const written = join(folder, 'card.pdf');
    writeFileSync(written, pdf);
    const words = native('pdftotext', ['-layout', written, '-']).out;
    assert.match(words, /does not replace instruction/);
    assert.match(words, /Step 1: first line holds/);
    assert.doesNotMatch(words, /Menu|One more person/);
    const pages = Number(/Pages:\s+(\d+)/.exec(native('pdfinfo', [written]).out)[1]);
    assert.equal(pages, await page.locator('#card .page').count(), 'a sheet’s page is a page of paper');
    assert.ok(pages >= 2);
  }));

  await claim('chromium: under Learn the printer gives what is taught, and the menu says what', () => withPage({ size: 'desktop' }, async (page) => {
    await page.locator('#tab-learn').click();
    await page.selectOption('#teach', { label: '6:1' });
    const menuSays = async () => {
      await page.locator('#open-menu').click();
      const said = await text(page, '#do-print');
      await page.locator('#close-menu').click();
      assert.equal(await text(page, '#print-lesson'), said);
      return said;
    };
    const printed = async (...how) => {
      const written = join(folder, 'lesson.pdf');
      writeFileSync(written, await page.pdf({ format: 'A4' }));
      return native('pdftotext', [...how, written, '-']).out.split('\f').slice(0, -1).map((sheet) => (how.length > 0 ? sheet : sheet.replace(/\s+/g, ' ')));
    };
    assert.equal(await menuSays(), 'Print: explanation of course rig 6:1');
    const explained = (await printed()).join(' ');
    for (const words of [/Why\? course rig 6:1/, /6 became \d/, /times the pull/, /Loss at the bends/, /passes on \d+ %/, /not out of the\s+bags/, /does not replace instruction/]) {
      assert.match(explained, words);
    }
    // The card to build from says on each page whose gear it counts on.
    await page.evaluate(() => { window.print = () => undefined; });
    await page.locator('#print-card').click();
    const cards = await printed();
    assert.match(cards[0], /6:1, works like/);
    cards.forEach((sheet, i) => assert.match(sheet, /course rig 6:1: built of a course’s kit,\s+not\s+out of your bags\.\s+They\s+may\s+lack\s+pieces/, `page ${i + 1}`));
    assert.match((await printed()).join(' '), /6 became/, 'and then the explanation again');
    await page.locator('#topic-quiz').click();
    assert.equal(await menuSays(), 'Print: questions on course rig 6:1, the answers on a page of their own');
    const [asked, answered, ...more] = await printed();
    assert.equal(more.length, 0);
    assert.match(asked, /What is the advantage of this rig without friction\?/);
    assert.match(asked, /Given, at the likely figures: Load 85.kg, 8\d\d.N/, 'what the questions need');
    assert.match(asked, /the edge: passes on \d+ %, loses \d+ %/);
    assert.doesNotMatch(asked.replace(/Load 85.kg, \d+.N/, ''), /About \d|\d.N\b|This crew|does not help/, 'no answer beside the questions');
    await page.evaluate(() => window.dispatchEvent(new Event('beforeprint')));
    await page.emulateMedia({ media: 'print' });
    const wide = await page.evaluate(() => document.querySelector('#card .asked .paper svg').getBoundingClientRect().width / document.querySelector('#card .lesson').getBoundingClientRect().width);
    await page.emulateMedia({ media: null });
    assert.ok(wide > 0.45, `the figure has ${wide} of the page`);
    assert.match(answered, /About \d+\./);
    assert.match(answered, /does not replace instruction/);
    await page.locator('#topic-compare').click();
    const ratios = await page.evaluate(() => [0, 1].map((side) => document.getElementById(`pair-${side}`).selectedOptions[0].textContent.match(/[\d.]+:1/)[0]));
    assert.notEqual(ratios[0], ratios[1], 'two that differ');
    assert.deepEqual(await page.locator('#learn tr.crew .badge').count(), 2, 'whether this crew can, rig by rig');
    await page.selectOption('#pair-1', { label: (await page.locator('#pair-1 option').allTextContents()).find((option) => option.startsWith('6:1')) });
    assert.match(await menuSays(), /^Print: Rig 1 of \d+, [\d.]+:1 beside course rig 6:1$/);
    const [sheet, ...rest] = await printed('-layout');
    assert.equal(rest.length, 0);
    assert.match(sheet, /Rig B: course rig 6:1/);
    assert.match(sheet, /Advantage, no friction\s+\d+\s+6\s/);
    await page.locator('#tab-rig').click();
    await page.locator('#open-menu').click();
    assert.match(await text(page, '#do-print'), /^Print the card: Rig 1 of/, 'elsewhere the open rig is printed, as before');
  }));

  await claim('chromium: dragged sideways, the hand follows to the figure’s scale', () => withPage({ size: 'desktop' }, async (page) => {
    await page.locator('#tab-rig').click();
    const box = await page.locator('#section svg').boundingBox();
    await page.mouse.move(box.x + box.width * 0.5, box.y + 60);
    await page.mouse.down();
    await page.mouse.move(box.x + box.width * 0.5 + 60, box.y + 60, { steps: 4 });
    await page.mouse.up();
    await page.waitForFunction(() => Number.parseFloat(document.querySelector('.haul dd').textContent) > 0.2);  // out of sight, it follows later
  }));

  await claim('chromium: the animation runs to the end of the stroke', () => withPage({ reducedMotion: 'no-preference' }, async (page) => {
    await page.locator('#tab-rig').click();
    await page.locator('#play').click();
    assert.equal(await text(page, '#play'), 'Stop');
    await page.waitForFunction(() => /The stroke ends|Hands off/.test(document.querySelector('.pulls [role=status]').textContent));
    assert.equal(await text(page, '#play'), 'Pull one stroke');
  }));

  // What is held while a slider moves must hold all of its text, at every value, and be let go afterwards.
  await claim('chromium: no figure is squeezed or cut while a slider moves', () => withPage({ touch: true }, async (page) => {
    await page.locator('#tab-rig').tap();
    await page.locator('#whatif summary').tap();
    const seen = await page.evaluate(async () => {
      const frames = (n) => new Promise((done) => { const next = () => (n-- > 0 ? requestAnimationFrame(next) : done()); next(); });
      const found = { held: 0, cut: [], squeezed: [] };
      for (const place of ['load.mass_kg', 'lip.friction']) {
        const slider = document.querySelector(`#whatif input[data-place="${place}"]`);
        for (let i = 0; i <= 12; i++) {
          slider.value = String(Number(slider.min) + (Number(slider.max) - Number(slider.min)) * i / 12);
          slider.dispatchEvent(new Event('input', { bubbles: true }));
          (i < 7 ? document.querySelector('#rig > .answer') : slider).scrollIntoView({ block: 'center' });
          await frames(4);
          for (const box of document.querySelectorAll('#rig > .answer *, #whatif .compare *, #whatif output *')) {
            found.held += box.classList.contains('held') ? 1 : 0;
            if (box.classList.contains('held') && box.scrollHeight > box.clientHeight + 1) { found.cut.push(`${place} ${slider.value}: ${box.textContent}`); }
            if (box.textContent !== '' && box.getClientRects().length > 0 && box.clientWidth < 8 && getComputedStyle(box).display !== 'inline') { found.squeezed.push(`${place} ${slider.value}: ${box.textContent}`); }
          }
        }
      }
      return found;
    });
    assert.ok(seen.held > 50, `${seen.held} held`);
    assert.deepEqual([seen.cut, seen.squeezed], [[], []]);
    await page.waitForFunction(() => document.querySelector('#rig .held') === null);
  }));

  await claim('chromium: a tap on a strand tells what it carries', () => withPage({ touch: true }, async (page) => {
    await page.locator('#tab-rig').tap();
    await page.locator('#section').scrollIntoViewIfNeeded();
    const spot = await page.evaluate(() => {
      const path = document.querySelector('#section g[data-strand="0"] :is(path, line)');
      path.scrollIntoView({ block: 'center' });
      const p = path.getPointAtLength(path.getTotalLength() * 0.4).matrixTransform(path.getScreenCTM());
      return [p.x, p.y];
    });
    await page.touchscreen.tap(spot[0], spot[1]);
    assert.match(await text(page, '.part'), /Strand the load – the edge/);
    // What is chosen shows, and its answer is in sight: above the sliders, no scrolling.
    const seen = async (y, says) => {
      assert.match(await text(page, '#tapped'), says);
      const [box, bar] = [await page.locator('#tapped p').boundingBox(), await page.locator('#tabs').boundingBox()];
      assert.ok(box.y >= 0 && box.y + box.height <= bar.y + 1, `the answer is at ${box.y}, ${box.height} high, over ${bar.y}`);
      const all = await page.locator('#tapped').boundingBox();
      assert.ok(y < all.y || y > all.y + all.height, 'and what was tapped is not behind it');
      return page.evaluate(() => [...document.querySelectorAll('#section .chosen :is(path, line, circle, rect)')].map((shape) => Number.parseFloat(getComputedStyle(shape).strokeWidth)));
    };
    const widths = await seen(spot[1], /Strand the load – the edge.*raising: \d.*If it lets go: ./s);
    assert.ok(widths.length > 0 && Math.min(...widths) >= 5, `drawn ${widths} wide`);
    // A hitch is told by its name, not as the point that it sits at.
    const hitch = await page.evaluate(() => {
      const group = document.querySelector('#section g[data-grip="0"]');
      group.scrollIntoView({ block: 'center' });
      const box = group.getBoundingClientRect();
      return [box.x + box.width / 2, box.y + box.height / 2];
    });
    await page.touchscreen.tap(hitch[0], hitch[1]);
    assert.ok((await seen(hitch[1], /prusik loop.* on block.*If it lets go: .*(Caught by|Nothing catches|does not hang)/s)).length > 0);
    assert.match(await page.locator('#part').inputValue(), /^grip-0$/);
    await page.locator('#tapped-more').tap();
    const more = await page.locator('.parts').boundingBox();
    assert.ok(more.y > -5 && more.y < 300);
  }));
}

// ------------------------------------------------------------------------------------------------------- the rope team

const TEAMS = ['two', 'three', 'four-downhill', 'six', 'three-exact'].map((kind) => `examples/team-${kind}.yaml`);

async function counted(page) {
  await page.waitForSelector('#answer:not(.stale)');
  await page.waitForSelector('#team-sheet svg', { state: 'attached' });
}

async function loadTeam(page, body) {
  await page.setInputFiles('#file', { name: 'team.yaml', mimeType: 'text/yaml', buffer: Buffer.from(body) });
  await page.waitForSelector('#team-figure svg');
  await counted(page);
}

async function teamWay(page, use) {
  await use.press('#tab-team');
  await counted(page);
  const bar = await text(page, '#answer');
  assert.match(bar, /held in (> |< )?\d+ of 100/);
  assert.match(await text(page, '.chance'), /\d+ of 100 falls.*2000 falls/);
  // One slider for every distance.
  await use.slide('[data-path="team.spacing"] input[type=range]', 0.2);
  const apart = await text(page, '[data-path="team.spacing"] .said');
  assert.notEqual(apart, '11\u00A0m');
  await use.press('[data-key="team-each"] > summary');
  assert.deepEqual(await page.locator('[data-path="team.gap"] .said').allTextContents(), [apart, apart]);
  // One more person: a field more, a row more, and the thumb stays where it was.
  await use.press('[data-path="team.people"] .row.slide button:last-of-type');
  assert.equal(await page.locator('[data-path="team.people[].mass_kg"]').count(), 4);
  await use.press('[data-path="team.knots.count"] .row.slide button:last-of-type');
  assert.ok(await page.locator('[data-path="team.knots.first_m"]').isVisible());
  await counted(page);
  assert.equal(await page.locator('#team-answer tbody tr').count(), 4);
  assert.notEqual(await text(page, '#answer'), bar);
  // The fall: played, slid, stepped.
  const still = await page.locator('#team-figure').innerHTML();
  await use.slide('#team-slider', 0.2);
  assert.notEqual(await page.locator('#team-figure').innerHTML(), still, 'the figure follows the slider');
  const time = await text(page, '#team-time');
  await use.press('#team-step-on');
  assert.notEqual(await text(page, '#team-time'), time);
  await use.press('#team-step-back');
  assert.equal(await text(page, '#team-time'), time);
  await use.press('#team-play');
  await page.waitForFunction(() => { const [at, end] = document.getElementById('team-time').textContent.split('/').map(Number.parseFloat); return at === end; });
  // Ways compared: stopped, then to the end, and taken.
  // Both at once: however fast the machine, it is not done yet.
  await page.evaluate(() => { document.getElementById('choose-go').click(); document.getElementById('choose-cancel').click(); });
  await page.waitForSelector('#choose-go');
  assert.equal(await page.locator('#choose-result').count(), 0);
  await use.press('#choose-go');
  await page.waitForSelector('#choose-result', { timeout: 120000 });
  assert.match(await text(page, '.choose'), /\d+ ways, 200 falls each: a share may be off by 7 of 100/);
  assert.equal(await page.locator('.choose .paper svg').count(), 1);
  // Four on snow that is not known hold too seldom: nothing is recommended, and there is nothing to take.
  assert.match(await text(page, '#choose-result'), /None recommended/);
  assert.equal(await page.locator('#choose-take').count(), 0);
  // Six on soft snow hold.
  await loadTeam(page, readFileSync('examples/team-six.yaml', 'utf8').replace(/^team:$/m, 'team:\n  snow: soft'));
  await use.press('#choose-go');
  await page.waitForSelector('#choose-result', { timeout: 120000 });
  const [people, metres] = (await text(page, '#choose-result h3')).match(/[\d.]+/g).map(Number);
  await use.press('#choose-take');
  await counted(page);
  assert.equal(await text(page, '[data-path="team.people"] .said'), String(people));
  assert.equal(Number.parseFloat(await text(page, '[data-path="team.spacing"] .said')), metres);
  assert.match(await text(page, '#team-raises'), /Person 1 hangs/);
}

for (const [size, kind] of runs) {
  await claim(`${name}, ${size}, ${kind}: the rope team, from who to the way to rope up`, () =>
    withPage({ size, touch: kind === 'touch' }, (page) => teamWay(page, hands(kind, page))));
}

await claim(`${name}: the team's answer, sheet and figures are the terminal's`, () => withPage({}, async (page) => {
  for (const path of TEAMS) {
    await loadTeam(page, readFileSync(path, 'utf8'));
    await page.waitForSelector('#team-sheet svg', { state: 'attached', timeout: 60000 });
    const want = JSON.parse(native(program, ['team', path, '--json']).out);
    const fall = await text(page, '#team-answer .fact dd');
    assert.ok(want.fall_m === null ? fall.startsWith('not stopped') : Math.abs(Number.parseFloat(fall) - want.fall_m) <= 0.05 + 1e-9, `${path}: ${fall}`);
    const word = await text(page, '#team-answer .badge');
    const held = want.arrested && want.pulled_in === 0;
    assert.match(word, !held ? /No/ : want.chance === null ? /Likely/ : want.chance.nobody_else_in === 1 ? /Yes/ : /Likely|Perhaps/);
    for (const [selector, figure] of [['#team-sheet svg', 'sheet']]) {
      const svg = native(program, ['team', path, '--figure', figure, '--svg', '-', '-o', join(folder, 'ignored.txt')]).out;
      const same = await page.evaluate(([s, where]) => {
        const flat = (root) => new XMLSerializer().serializeToString(root).replace(/\s+/g, ' ');
        return flat(document.querySelector(where)) === flat(new DOMParser().parseFromString(s, 'image/svg+xml').documentElement);
      }, [svg, selector]);
      assert.ok(same, `${path}: ${figure}`);
    }
  }
}));

await claim(`${name}: a fall goes over the bare edge, its charts have their own title, and one fall has one depth`, () => withPage({ size: 'phone' }, async (page) => {
  await page.locator('#tab-team').click();
  await counted(page);
  const edge = page.locator('[data-path="team.edge"]');
  assert.match(await edge.textContent(), /nobody falls over padding/);
  const bare = await text(page, '#team-answer .chance');
  await edge.locator('select').selectOption('firn');
  await counted(page);
  assert.equal(await text(page, '#team-answer .chance'), bare, 'the example’s edge is padded: bare firn is what counts');
  await page.waitForSelector('#team-lines p', { state: 'attached' });
  assert.match(await text(page, '#team-lines'), /The fall goes over a bare edge/);
  await edge.locator('select').selectOption('padded');
  await counted(page);
  assert.notEqual(await text(page, '#team-answer .chance'), bare, 'and it can be chosen');
  assert.match(await page.locator('#team-paths svg').innerHTML(), /Rope team/);
  assert.doesNotMatch(await page.locator('#team-paths svg').innerHTML(), /Raising rig/);
  // On ice all are pulled in: no slide and no depth stands for a fall that goes on.
  await page.selectOption('[data-path="team.snow"] select', 'ice');
  await edge.locator('select').selectOption('ice');
  await counted(page);
  assert.match(await text(page, '#team-answer .badge'), /No/);
  assert.match(await text(page, '#team-answer .fact dd'), /^not stopped/);
  const rows = await page.locator('#team-answer tbody tr td:nth-child(2)').allTextContents();
  assert.ok(rows.slice(1).every((cell) => cell.startsWith('goes in')), rows.join('; '));
  await page.locator('#team-slider').focus();
  await page.keyboard.press('End');
  assert.match(await page.locator('#team-figure svg').textContent(), /1: not stopped; \d followed/);
  // In each range of a fall that is held lies what is likely.
  await loadTeam(page, readFileSync('examples/team-six.yaml', 'utf8').replace(/^team:$/m, 'team:\n  snow: soft'));
  await counted(page);
  const cells = await page.locator('#team-answer tbody tr td:nth-child(2)').allTextContents();
  for (const cell of [await text(page, '#team-answer .fact dd'), ...cells.slice(1)]) {
    const [likely, low, high] = cell.match(/[\d.]+/g).map(Number);
    assert.ok(low <= likely && likely <= high, cell);
  }
}));

await claim(`${name}: what a team stands on changes its answer, in sight of the question`, () => withPage({}, async (page) => {
  await page.locator('#tab-team').click();
  await loadTeam(page, readFileSync('examples/team-three.yaml', 'utf8'));
  await settled(page);
  const bar = () => text(page, '#answer');
  const held = async () => Number.parseInt((await bar()).match(/held in (?:> |< )?(\d+) of 100/)[1], 10);
  const unknown = await held();
  assert.match(await text(page, '#team-ends'), /The snow decides: held in (< )?\d+ of 100 where .*friction up to 0\.\d\d.*from 0\.\d\d/);
  const select = page.locator('[data-path="team.snow"] select');
  const on = async (snow) => {
    const before = await bar();
    await select.selectOption(snow);
    await page.waitForFunction((old) => { const now = document.getElementById('answer'); return !now.classList.contains('stale') && now.textContent !== old; }, before);
    return held();
  };
  const firn = await on('firn');
  const soft = await on('soft');
  assert.ok(firn < unknown && unknown < soft, `${firn}, ${unknown}, ${soft}`);
  await select.evaluate((e) => e.scrollIntoView({ block: 'center' }));
  await select.focus();
  const [asked, answer] = [await select.boundingBox(), await page.locator('#answer').boundingBox()];
  assert.ok(asked.y >= 0 && asked.y + asked.height <= answer.y + 1 && answer.y + answer.height <= 740, JSON.stringify([asked, answer]));
}));

await claim(`${name}: a team is saved with the scene, and a rope too short for it says so`, () => withPage({}, async (page) => {
  const use = hands('keyboard', page);
  await loadTeam(page, readFileSync('examples/team-two.yaml', 'utf8'));
  await use.press('[data-path="team.spacing"] .row.slide button:last-of-type');
  const apart = Number.parseFloat(await text(page, '[data-path="team.spacing"] .said'));
  await page.evaluate(() => {
    const create = URL.createObjectURL;
    URL.createObjectURL = (blob) => { void blob.text().then((body) => { window.saved = body; }); return create(blob); };
  });
  await page.locator('#open-menu').click();
  await page.locator('#do-save').click();
  await page.waitForFunction(() => window.saved !== undefined);
  const written = join(folder, 'team.yaml');
  writeFileSync(written, await page.evaluate(() => window.saved));
  const got = native(program, ['team', written, '--json', '--samples', '0']);
  assert.ok(got.status <= 1, got.err);
  assert.ok(Math.abs(JSON.parse(got.out).start_m[1] - apart) < 1e-9);
  await page.evaluate(() => {
    const slider = document.querySelector('[data-path="ropes[].length_m"] input[type=range]');
    slider.value = '10';
    slider.dispatchEvent(new Event('input', { bubbles: true }));
  });
  await page.waitForFunction(() => /farther apart than its rope/.test(document.getElementById('team-answer').textContent));
  assert.match(await text(page, '#answer'), /cannot be worked out/);
}));

await claim(`${name}: a broken team in a file says where, and the scene stays`, () => withPage({}, async (page) => {
  const good = readFileSync('examples/team-two.yaml', 'utf8');
  await loadTeam(page, good);
  const before = await text(page, '#team-answer');
  for (const [body, message] of [[good.replace('behind_m: 13', 'behind_m: -2'), /line 19, column 64.*team\.people\[1\]\.behind_m/], [good.replace('mass_kg: 82, behind_m', 'mass_kg: many, behind_m'), /line 19.*team\.people\[0\]\.mass_kg/],
    [good.replace('catch_N', 'catches'), /line 20.*catches/]]) {
    await page.setInputFiles('#file', { name: 'bad.yaml', mimeType: 'text/yaml', buffer: Buffer.from(body) });
    await page.waitForFunction((source) => new RegExp(source, 's').test(document.getElementById('message').textContent), message.source)
      .catch(async () => assert.match(await text(page, '#message'), message));
    assert.equal(await text(page, '#team-answer'), before);
  }
}));

await claim(`${name}: names in a team's scene never become markup`, () => withPage({}, async (page) => {
  const evil = '</script><img src=x onerror=window.hit=1><svg onload=window.hit=1>';
  await loadTeam(page, readFileSync('examples/team-two.yaml', 'utf8').replace(/^title:.*$/m, `title: ${JSON.stringify(evil)}`).replace('name: main', `name: ${JSON.stringify('<i onmouseover=hit=1>r</i>')}`));
  await page.locator('#choose-go').click();
  await page.waitForSelector('#choose-result', { timeout: 120000 });
  await page.evaluate(() => window.dispatchEvent(new Event('beforeprint')));
  assert.match(await text(page, '#card'), /onerror/);
  assert.match(await text(page, '.choose'), /onmouseover/);
  assert.deepEqual(await page.evaluate(() => [document.querySelectorAll('#team img, #team script, #team i, #card img, foreignObject').length, window.hit ?? null]), [0, null]);
}));

await claim(`${name}: without workers a team is counted as well`, () => withPage({ init: () => { window.Worker = undefined; } }, async (page) => {
  await page.locator('#tab-team').click();
  await counted(page);
  assert.match(await text(page, '#answer'), /held in (> |< )?\d+ of 100/);
}));

if (!isFirefox) {
  await claim('chromium: the fall is played, paused and goes on; printed is the trip sheet', () => withPage({ reducedMotion: 'no-preference' }, async (page) => {
    await page.locator('#tab-team').click();
    await counted(page);
    await page.locator('#team-play').click();
    assert.equal(await text(page, '#team-play'), 'Pause');
    await page.waitForFunction(() => Number.parseFloat(document.getElementById('team-time').textContent) > 0.2);
    await page.locator('#team-play').click();
    assert.equal(await text(page, '#team-play'), 'Play');
    const paused = await text(page, '#team-time');
    await page.locator('#team-play').click();
    await page.waitForFunction((from) => Number.parseFloat(document.getElementById('team-time').textContent) > from, Number.parseFloat(paused));
    const written = join(folder, 'trip.pdf');
    for (const format of ['Letter', 'A4']) {
      writeFileSync(written, await page.pdf({ format }));
      assert.match(native('pdfinfo', [written]).out, /Pages:\s+1\n/, `${format}: caution and sheet are one page`);
    }
    const words = native('pdftotext', ['-layout', written, '-']).out;
    assert.match(words, /Rope team: trip sheet/);
    assert.match(words, /does not replace instruction/);
    assert.doesNotMatch(words, /Compare ways/);
  }));
}

await browser.close();
end();
