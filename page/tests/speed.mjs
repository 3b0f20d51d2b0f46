// SPDX-License-Identifier: MIT
// How fast is the page, with the processor held back to a quarter? For the benchmark: rows of CSV, the bound beside each figure.
// usage: node speed.mjs PAGE.html MODULE [--bounds]   --bounds: fail where a bound is broken
import { performance } from 'node:perf_hooks';
import { readFileSync, statSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import { build } from 'esbuild';
import { launch } from './lib.mjs';

const [file, modulePath, strict] = process.argv.slice(2);
const THROTTLE = 4;
const rows = [];
const row = (name, value, unit, bound) => rows.push([name, value, unit, bound]);
const percentile = (list, p) => [...list].sort((a, b) => a - b)[Math.min(list.length - 1, Math.floor(list.length * p))];

row('size', statSync(file).size / 1000, 'kB', 600);
const browser = await launch('chromium');

async function opened() {
  const context = await browser.newContext({ viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true });
  const page = await context.newPage();
  const session = await context.newCDPSession(page);
  await session.send('Emulation.setCPUThrottlingRate', { rate: THROTTLE });
  return { context, page };
}

// From navigation to the first answer on the screen, the middle of five.
const firsts = [];
for (let i = 0; i < 5; i++) {
  const { context, page } = await opened();
  await page.addInitScript(() => {
    const look = () => {
      if (document.querySelector('#answer:not(.stale) .badge') !== null) { window.answered = performance.now(); } else { requestAnimationFrame(look); }
    };
    requestAnimationFrame(look);
  });
  await page.goto(pathToFileURL(file).href);
  await page.waitForFunction(() => window.answered !== undefined);
  firsts.push(await page.evaluate(() => window.answered));
  await context.close();
}
row('first answer', percentile(firsts, 0.5), 'ms', 1500);

const { page } = await opened();
await page.goto(pathToFileURL(file).href);
await page.waitForSelector('#answer:not(.stale) .badge');

// A slider of the form, to the new list of rigs: what plan takes.
const plans = await page.evaluate(async () => {
  const slider = document.querySelector('[data-path="load.mass_kg"] input[type=range]');
  const bar = document.getElementById('answer');
  const times = [];
  for (let i = 0; i < 40; i++) {
    slider.value = String(70 + i);
    const begin = performance.now();
    slider.dispatchEvent(new Event('input', { bubbles: true }));
    await new Promise((done) => {
      const look = () => (bar.classList.contains('stale') ? new MutationObserver((_m, o) => { if (!bar.classList.contains('stale')) { o.disconnect(); done(); } }).observe(bar, { attributes: true }) : done());
      look();
    });
    times.push(performance.now() - begin);
    await new Promise((done) => requestAnimationFrame(done));
  }
  return times;
});
row('plan, a slider to the new list, p95', percentile(plans, 0.95), 'ms', 100);

// A slider of the open rig, to figure and numbers in the page, layout included: what check takes.
await page.locator('#tab-rig').click();
await page.waitForSelector('#section svg');
const checks = await page.evaluate(async () => {
  document.getElementById('whatif').open = true;
  const slider = document.querySelector('#whatif input[data-place="lip.friction"]');
  const times = [];
  for (let i = 0; i < 60; i++) {
    slider.value = String(0.2 + 0.01 * i);
    let begin = 0;
    requestAnimationFrame(() => { begin = performance.now(); });
    slider.dispatchEvent(new Event('input', { bubbles: true }));
    // The work is done in the next frame's own time: from there to the end of layout.
    await new Promise((done) => requestAnimationFrame(done));
    void document.getElementById('rig').getBoundingClientRect().height;
    times.push(performance.now() - begin);
    await new Promise((done) => requestAnimationFrame(done));
  }
  return times;
});
row('check, the least', percentile(checks, 0), 'ms', Infinity);
row('plan, the least', percentile(plans, 0), 'ms', Infinity);
row('check, a slider to figure and numbers, p95', percentile(checks, 0.95), 'ms', 16);

// One stroke: how many frames in how long.
const frames = await page.evaluate(async () => {
  document.querySelector('#put-back').click();
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

// The module alone, unthrottled, in Node: compare with the native benchmark's rows of the same names.
const here = (name) => new URL(name, import.meta.url).pathname;
const bundled = await build({ stdin: { contents: "export * from './core'; export { parseYaml } from './yaml';", resolveDir: here('../src'), loader: 'ts' }, bundle: true, write: false, format: 'esm' });
const { Ask, Core, parseYaml } = await import(`data:text/javascript;base64,${Buffer.from(bundled.outputFiles[0].text).toString('base64')}`);
const core = new Core(new WebAssembly.Module(readFileSync(modulePath)));
const scene = parseYaml(readFileSync('examples/two-person.yaml', 'utf8'));
function least(work, times) {
  let best = Infinity;
  for (let i = 0; i < times; i++) {
    const begin = performance.now();
    work();
    best = Math.min(best, performance.now() - begin);
  }
  return best;
}
row('module: read and check', least(() => { core.read(scene.events); core.ask(Ask.check); }, 200), 'ms', Infinity);
row('module: plan', least(() => { core.ask(Ask.plan, -1); }, 20), 'ms', Infinity);
row('module: section figure', least(() => { core.ask(Ask.section); }, 100), 'ms', Infinity);

let broken = 0;
console.log('name,value,unit,bound');
for (const [name, value, unit, bound] of rows) {
  const fine = bound < 0 ? value >= -bound : value <= bound;
  broken += fine ? 0 : 1;
  console.log(`"${name}",${value.toFixed(2)},${unit},${Number.isFinite(bound) ? (bound < 0 ? `at least ${-bound}` : `at most ${bound}`) : ''}${fine ? '' : ' BROKEN'}`);
}
process.exitCode = strict === '--bounds' && broken > 0 ? 1 : 0;
