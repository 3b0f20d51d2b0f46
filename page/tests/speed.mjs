// SPDX-License-Identifier: MIT
// How fast is the page, with the processor held back to a quarter? And the module, held against the same calls natively? Rows of
// CSV, the bound beside each figure. usage: node speed.mjs PAGE.html MODULE [--native PROGRAM] [--csv FILE] [--bounds]
// --native: page/tests/native.c, built; --bounds: fail where a bound is broken
//
// What is measured of a slider. "Work": the main thread's time for the change, from the event through script, style, layout and
// paint to the hand-over of the frame; that is what a frame of 16.7 ms must hold, and what is late if it does not. "On screen": from
// the event to the end of that frame, the wait for the frame's beat included; no page can do less than that wait, which is up to
// 16.7 ms by itself. The end of a frame is when a message that was posted in it arrives: the browser runs nothing of the page between
// a frame's callbacks and its paint.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { pathToFileURL } from 'node:url';
import { build } from 'esbuild';
import { launch } from './lib.mjs';

const [file, modulePath, ...options] = process.argv.slice(2);
const option = (name) => (options.includes(name) ? options[options.indexOf(name) + 1] : undefined);
const THROTTLE = 4;
const rows = [];
const row = (name, value, unit, bound = Infinity) => rows.push([name, value, unit, bound]);
const percentile = (list, p) => [...list].sort((a, b) => a - b)[Math.min(list.length - 1, Math.floor(list.length * p))];

row('size', statSync(file).size / 1000, 'kB', 600);
const browser = await launch('chromium');

async function opened() {
  const context = await browser.newContext({ viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true });
  const page = await context.newPage();
  const session = await context.newCDPSession(page);
  await session.send('Emulation.setCPUThrottlingRate', { rate: THROTTLE });
  await page.addInitScript(() => {
    // When the next frame begins its work, and when it is done with it.
    window.nextFrame = (at = () => undefined) => new Promise((done) => {
      requestAnimationFrame(() => {
        const begin = performance.now();
        at();
        const { port1, port2 } = new MessageChannel();
        port1.onmessage = () => done({ begin, end: performance.now() });
        port2.postMessage(0);
      });
    });
    window.pause = (ms) => new Promise((done) => setTimeout(done, ms));
    window.slideTo = (slider, value) => {
      slider.value = String(value);
      const begin = performance.now();
      slider.dispatchEvent(new Event('input', { bubbles: true }));
      return { begin, end: performance.now() };
    };
  });
  return { context, page };
}

// From navigation to the first answer on the screen, and until everything is there: the form, and the answer worked out anew by the
// page's own core. The middle of five; then opened again with a scene of one's own kept.
const AGAIN = 5;
async function firstAnswers(prepare) {
  const times = { answered: [], ready: [] };
  for (let i = 0; i < AGAIN; i++) {
    const { context, page } = await opened();
    await page.addInitScript(() => {
      const look = () => {
        if (document.querySelector('#answer:not(.stale) .badge') !== null) { window.answered = performance.now(); } else { requestAnimationFrame(look); }
      };
      requestAnimationFrame(look);
      new MutationObserver(() => { window.ready ??= document.documentElement?.hasAttribute('data-ready') ? performance.now() : undefined; }).observe(document, { attributes: true, subtree: true });
    });
    await page.goto(pathToFileURL(file).href);
    await page.waitForFunction(() => window.answered !== undefined && window.ready !== undefined);
    if (await prepare(page)) {
      await page.reload();
      await page.waitForFunction(() => window.answered !== undefined && window.ready !== undefined);
    }
    times.answered.push(await page.evaluate(() => window.answered));
    times.ready.push(await page.evaluate(() => window.ready));
    await context.close();
  }
  return times;
}
const fresh = await firstAnswers(() => false);
row('first answer', percentile(fresh.answered, 0.5), 'ms', 1500);
row('first answer, worked out anew and all to be used', percentile(fresh.ready, 0.5), 'ms');
const kept = await firstAnswers(async (page) => {
  await page.locator('[data-item="carabiner"] button:last-of-type').tap();
  await page.waitForFunction(() => JSON.parse(localStorage.getItem('firnhaul.1') ?? '{}').answer?.points.length > 0 && JSON.parse(localStorage.getItem('firnhaul.1')).scene.includes('"item":"carabiner","count":9'));
  return true;
});
row('first answer, opened again with a scene kept', percentile(kept.answered, 0.5), 'ms', 1500);
row('first answer, the same, worked out anew and all to be used', percentile(kept.ready, 0.5), 'ms');

const { page } = await opened();
await page.goto(pathToFileURL(file).href);
await page.waitForSelector('html[data-ready]');

// A slider of the form, to the new list of rigs: what plan takes. The search runs beside the page.
const plans = await page.evaluate(async () => {
  const slider = document.querySelector('[data-path="load.mass_kg"] input[type=range]');
  const bar = document.getElementById('answer');
  const times = { there: [], shown: [] };
  for (let i = 0; i < 40; i++) {
    const { begin } = window.slideTo(slider, 70 + i);
    await new Promise((done) => {
      const look = () => (bar.classList.contains('stale') ? new MutationObserver((_m, o) => { if (!bar.classList.contains('stale')) { o.disconnect(); done(); } }).observe(bar, { attributes: true }) : done());
      look();
    });
    times.there.push(performance.now() - begin);
    times.shown.push((await window.nextFrame()).end - begin);
    await window.pause(20 + (i * 7) % 17);
  }
  return times;
});
row('plan, a slider to the new list in the page, p95', percentile(plans.there, 0.95), 'ms', 100);
row('plan, a slider to the new list on screen, p95', percentile(plans.shown, 0.95), 'ms', 100);
row('plan, on screen, the least', percentile(plans.shown, 0), 'ms');

// A slider of the open rig: numbers in the next frame, the figure in the one after it. What check takes. On the phone, as who slides
// sees it, the slider in the middle: what is out of sight changes later. And on a window so tall that all is in sight.
await page.locator('#tab-rig').tap();
await page.waitForSelector('#section svg');
const phone = page.viewportSize();
const slides = () => page.evaluate(async () => {
  document.getElementById('whatif').open = true;
  const slider = document.querySelector('#whatif input[data-place="lip.friction"]');
  slider.scrollIntoView({ block: 'center' });
  await window.pause(300);
  const said = () => document.querySelector('#whatif .compare').textContent;
  const drawn = () => document.querySelector('#section svg').textContent;
  const times = { numbers: [], figure: [], shown: [], whole: [], silent: 0, still: 0 };
  for (let i = 0; i < 70; i++) {
    await window.pause(40 + (i * 7) % 17);  // at any moment of a frame
    const before = { said: said(), drawn: drawn() };
    let next = null;
    const frame = window.nextFrame(() => { next = window.nextFrame(); });  // asked for before the page asks: its callback begins the frame
    const event = window.slideTo(slider, 0.2 + 0.01 * (i % 60));
    const first = await frame;
    const numbers = said();
    const second = await next;
    if (i >= 10) {  // the first ones warm up
      times.numbers.push(event.end - event.begin + first.end - first.begin);
      times.figure.push(second.end - second.begin);
      times.shown.push(first.end - event.begin);
      times.whole.push(second.end - event.begin);
      times.silent += numbers === before.said ? 1 : 0;
      times.still += drawn() === before.drawn ? 1 : 0;
    }
  }
  return times;
});
const FEW = 6;  // a step may be too small to change any rounded figure
const phoneSlides = await slides();
if (phoneSlides.silent > FEW) {
  throw new Error(`${phoneSlides.silent} of ${phoneSlides.numbers.length} moves of the slider did not show in the next frame`);
}
row('check, work of a slider to the numbers painted, on the phone, p95', percentile(phoneSlides.numbers, 0.95), 'ms', 16);
row('check, the same, the middle', percentile(phoneSlides.numbers, 0.5), 'ms');
row('check, numbers on screen with the wait for the frame, p95', percentile(phoneSlides.shown, 0.95), 'ms');
await page.setViewportSize({ width: phone.width, height: 3000 });
const tallSlides = await slides();
if (tallSlides.silent > FEW || tallSlides.still > FEW) {
  throw new Error(`${tallSlides.silent} and ${tallSlides.still} of ${tallSlides.numbers.length} moves of the slider did not show in two frames`);
}
row('check, work to the numbers painted, all of the page in sight, p95', percentile(tallSlides.numbers, 0.95), 'ms', 16);
row('check, the same, the middle', percentile(tallSlides.numbers, 0.5), 'ms');
row('check, work of the figure in the next frame, p95', percentile(tallSlides.figure, 0.95), 'ms', 16);
row('check, the same, the middle', percentile(tallSlides.figure, 0.5), 'ms');
row('check, numbers and figure on screen, p95', percentile(tallSlides.whole, 0.95), 'ms');

// What the browser takes here for the least that can change: one text of a page with nothing else on it.
const bare = await opened();
await bare.page.goto(pathToFileURL(file).href);  // for the tools above; all that the page shows is taken out
await bare.page.waitForSelector('html[data-ready]');
const emptied = await bare.page.evaluate(async () => {
  document.body.innerHTML = '<input type="range" min="0" max="1" step="0.01"><p>0</p>';
  const [slider, text] = [document.querySelector('input'), document.querySelector('p').firstChild];
  slider.addEventListener('input', () => requestAnimationFrame(() => { text.data = slider.value; }));
  const times = [];
  for (let i = 0; i < 70; i++) {
    await window.pause(40 + (i * 7) % 17);
    const frame = window.nextFrame();
    const event = window.slideTo(slider, 0.2 + 0.01 * (i % 60));
    const first = await frame;
    if (i >= 10) {
      times.push(event.end - event.begin + first.end - first.begin);
    }
  }
  return times;
});
await bare.context.close();
row('for comparison, one text of an empty page, p95', percentile(emptied, 0.95), 'ms');
row('the same, the middle', percentile(emptied, 0.5), 'ms');

// One stroke, on a phone: how many frames in how long.
await page.setViewportSize(phone);
await page.evaluate(() => document.getElementById('section').scrollIntoView());
const frames = await page.evaluate(async () => {
  document.querySelector('#put-back').click();
  document.getElementById('whatif').open = false;
  await window.pause(300);
  const times = [];
  let last = 0;
  let on = true;
  const count = (time) => { if (last > 0) { times.push(time - last); } last = time; if (on) { requestAnimationFrame(count); } };
  document.getElementById('play').click();
  requestAnimationFrame(count);
  await new Promise((done) => { const look = () => (/Stop/.test(document.getElementById('play').textContent) ? requestAnimationFrame(look) : done()); requestAnimationFrame(look); });
  on = false;
  return times;
});
row('haul, frames a second', 1000 / (frames.reduce((a, b) => a + b, 0) / frames.length), '1/s', -58);
row('haul, a frame, p95', percentile(frames, 0.95), 'ms', 20);
await browser.close();

// The module alone, unthrottled, in Node, by turns with the same calls natively: the least of each.
const source = "export * from './core'; export { parseYaml } from './yaml';";
const bundled = await build({ stdin: { contents: source, resolveDir: new URL('../src', import.meta.url).pathname, loader: 'ts' }, bundle: true, write: false, format: 'esm' });
const { Ask, Core, parseYaml } = await import(`data:text/javascript;base64,${Buffer.from(bundled.outputFiles[0].text).toString('base64')}`);
const core = new Core(new WebAssembly.Module(readFileSync(modulePath)));
const { events } = parseYaml(readFileSync('examples/two-person.yaml', 'utf8'));
core.read(events);
const ROUNDS = 20;
const JOBS = {
  check: { again: 10 * ROUNDS, work: () => { core.read(events); core.ask(Ask.check); } },
  section: { again: 10 * ROUNDS, work: () => { core.ask(Ask.section); } },
  haul: { again: 10 * ROUNDS, work: () => { core.read(events); core.ask(Ask.haul); } },
  plan: { again: ROUNDS, work: () => { core.read(events); core.ask(Ask.plan, -1); } },
};
const least = { module: {}, native: {} };
const take = (who, name, ms) => { least[who][name] = Math.min(least[who][name] ?? Infinity, ms); };

const program = option('--native');
const folder = mkdtempSync(join(tmpdir(), 'firnhaul-'));
const told = join(folder, 'scene');
writeFileSync(told, events.done());
for (let turn = 0; turn < 4; turn++) {
  for (const [name, { again, work }] of Object.entries(JOBS)) {
    for (let i = 0; i < again; i++) {
      const begin = performance.now();
      work();
      take('module', name, performance.now() - begin);
    }
  }
  const native = program === undefined ? { status: 0, stdout: '' } : spawnSync(program, [told, String(ROUNDS)], { encoding: 'utf8' });
  if (native.status !== 0) {
    throw new Error(`${program} ended with status ${native.status}`);
  }
  native.stdout.split('\n').filter((line) => line !== '').forEach((line) => take('native', line.split(',')[0], Number(line.split(',')[1])));
}
rmSync(folder, { recursive: true });
for (const [name, ms] of Object.entries(least.module)) {
  row(`module: ${name}`, ms, 'ms');
  if (least.native[name] !== undefined) {
    row(`native: ${name}`, least.native[name], 'ms');
    row(`module to native: ${name}`, ms / least.native[name], '1', 2);
  }
}

let broken = 0;
const lines = rows.map(([name, value, unit, bound]) => {
  const fine = bound < 0 ? value >= -bound : value <= bound;
  broken += fine ? 0 : 1;
  return `"${name}",${value.toFixed(2)},${unit},${Number.isFinite(bound) ? (bound < 0 ? `at least ${-bound}` : `at most ${bound}`) : ''}${fine ? '' : ' BROKEN'}`;
});
const table = `name,value,unit,bound\n${lines.join('\n')}\n`;
process.stdout.write(table);
if (option('--csv') !== undefined) {
  writeFileSync(option('--csv'), table);
}
process.exitCode = options.includes('--bounds') && broken > 0 ? 1 : 0;
