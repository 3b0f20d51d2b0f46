// SPDX-License-Identifier: MIT
// A figure that is changed in place is the figure that the core gave, to the last byte: through the hauls of every example and
// generated rig, with values changed, and from rig to rig. usage: node figure.mjs chromium|firefox MODULE
import assert from 'node:assert/strict';
import { readdirSync, readFileSync } from 'node:fs';
import { build } from 'esbuild';
import { claim, end, launch } from './lib.mjs';

const [name, modulePath] = process.argv.slice(2);
const source = (contents) => ({ stdin: { contents, resolveDir: new URL('../src', import.meta.url).pathname, loader: 'ts' }, bundle: true, write: false });
const inNode = await build({ ...source("export * from './core'; export * from './scene'; export { parseYaml } from './yaml';"), format: 'esm' });
const inPage = await build({ ...source("export { Drawing } from './drawing'; export { figure } from './dom';"), format: 'iife', globalName: 'ours' });
const { Ask, Core, Events, parseYaml, withValue } = await import(`data:text/javascript;base64,${Buffer.from(inNode.outputFiles[0].text).toString('base64')}`);
const core = new Core(new WebAssembly.Module(readFileSync(modulePath)));

function read(tree) {
  const events = new Events();
  events.tell(tree);
  return core.read(events) === null;
}

function scenes() {
  const files = [...readdirSync('examples'), ...readdirSync('examples/rigs').map((file) => `rigs/${file}`)].filter((file) => file.endsWith('.yaml'));
  return files.map((file) => parseYaml(readFileSync(`examples/${file}`, 'utf8'))).flatMap((parsed) => ('message' in parsed || !read(parsed.tree) ? [] : [parsed.tree]));
}

/// The scene's own rig, or the first of those that plan finds.
function withRigs(tree) {
  if (tree.rig !== undefined) {
    return [tree];
  }
  read(tree);
  const text = core.ask(Ask.plan, -1);
  return text === null ? [] : JSON.parse(text).list.plans.slice(0, 4).map((plan) => ({ ...tree, rig: plan.rig }));
}

const HAULS = 20;
const turns = [];     // moments at which the crew would pull to the other side than at rest
/// To which side the crew pulls in a section: of the last strand with a hand, as the surface shows it.
const handSide = (svg) => Math.sign(JSON.parse(core.ask(Ask.check, 0) ?? '{}').raise.strands.reduce((sign, strand, i) => {
  const drawn = [...svg.matchAll(new RegExp(`<g data-strand="${i}">\\n<line x1="([-\\d.]+)" y1="[-\\d.]+" x2="([-\\d.]+)"`, 'g'))].pop();
  return strand.to === 'hand' && drawn !== undefined ? Number(drawn[2]) - Number(drawn[1]) : sign;
}, 0));
let starts = 0;       // rigs whose haul does not begin with the section itself
const sections = [];  // rig after rig, as they are and with other edges
const hauls = [];     // one list a rig: the load rises bit by bit
for (const tree of scenes().flatMap(withRigs)) {
  if (!read(tree)) {
    continue;
  }
  const far = JSON.parse(core.ask(Ask.check) ?? '{}').throw_m ?? 0;
  // It begins and ends with names and forces at the strands, and goes without while it moves.
  const asks = (i) => (i === 0 || i >= HAULS - 2 ? Ask.moved : Ask.moving);
  const frames = Array.from({ length: far > 0 ? HAULS : 0 }, (_v, i) => core.ask(asks(i), far * i / HAULS, far * i / HAULS));
  assert.ok(frames.every((svg) => svg !== null && svg.startsWith('<svg')), 'every moment has its figure');
  turns.push(...frames.map(handSide).filter((side) => side !== handSide(frames[0])));
  hauls.push(frames);
  starts += core.ask(Ask.moved, 0, 0) === core.ask(Ask.section) ? 0 : 1;
  for (const friction of [null, 0, 0.2, 0.35, 0.9]) {
    const svg = read(friction === null ? tree : withValue(tree, ['lip', 'friction'], friction)) ? core.ask(Ask.section) : null;
    sections.push(...(svg === null ? [] : [svg]));
  }
}
sections.push(...sections.slice().reverse(), sections[0].replace('<desc>', '<desc>&amp; &lt;b&gt; '), sections[0]);

const browser = await launch(name);
const page = await browser.newPage();
await page.evaluate(inPage.outputFiles[0].text.replace('var ours', 'window.ours'));

/// @return how many figures were changed in place; throws at the first that is not what the core gave
const follow = (figures) => page.evaluate((list) => {
  const text = (element) => new XMLSerializer().serializeToString(element);
  const drawing = new window.ours.Drawing();
  let kept = 0;
  for (const [i, svg] of list.entries()) {
    const before = drawing.element;
    if (!drawing.show(svg) || text(drawing.element) !== text(window.ours.figure(svg))) {
      throw new Error(`figure ${i} of ${list.length}: ${text(drawing.element)}`);
    }
    kept += drawing.element === before ? 1 : 0;
  }
  return kept;
}, figures);

await claim(`${name}: from rig to rig, and with other values, the figure is the core's`, async () => {
  assert.ok(sections.length > 100, `${sections.length} figures`);
  const kept = await follow(sections);
  console.log(`${sections.length} figures, ${kept} changed in place`);
});

await claim(`${name}: through a haul the figure is the core's, and stays where it is`, async () => {
  assert.equal(starts, 0);
  assert.deepEqual(turns, [], 'the crew pulls to the same side all the time');
  const moving = hauls.filter((list) => list.length > 0);
  assert.ok(moving.length > 10, `${moving.length} hauls`);
  let kept = 0;
  for (const list of moving) {
    kept += await follow(list);
  }
  const steps = moving.length * (HAULS - 3);  // two steps take names away and bring them back
  console.log(`${moving.length} hauls, ${kept} of ${steps} steps in place`);
  assert.ok(kept >= 0.9 * steps);
});

await claim(`${name}: what is no figure is not shown`, async () => {
  const refused = await page.evaluate(() => {
    const drawing = new window.ours.Drawing();
    const good = '<svg xmlns="http://www.w3.org/2000/svg">\n<text x="1">a</text>\n</svg>\n';
    const bad = ['<text x="1"><script>1</script></text>', '<script>1</script>', '<text x="1" onclick="1">a</text>', '<a href="x">a</a>', '<text style="x">a</text>', 'b'];
    return bad.map((line) => {
      drawing.show(good);
      const shown = drawing.show(good.replace('<text x="1">a</text>', line));
      return shown && (drawing.element.querySelector('script, a, [onclick], [style]') !== null);
    });
  });
  assert.deepEqual(refused, refused.map(() => false));
});

await browser.close();
end();
