// SPDX-License-Identifier: MIT
// Puts the page together: node build.mjs MODULE OUT.html   (MODULE: the core as WebAssembly)
// One file: style and script named by their hashes in the page's own policy, script and module packed as text.
import { createHash } from 'node:crypto';
import { mkdtempSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { execFileSync } from 'node:child_process';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { build } from 'esbuild';

const LARGEST = 600 * 1000;  // [byte] of the whole page
const [modulePath, out] = process.argv.slice(2);
const here = (name) => new URL(name, import.meta.url).pathname;

async function bundle(entry, define = {}) {
  const result = await build({
    entryPoints: [here(entry)], bundle: true, minify: true, write: false, format: 'iife', target: ['chrome103', 'firefox115', 'safari16.4'], define, legalComments: 'none',
  });
  return result.outputFiles[0].text;
}

/// What the page says at once of the scene it begins with, until its core runs: asked of the very module that it carries.
async function startAnswer(bytes) {
  const source = "export * from './core'; export { START } from './scene';";
  const built = await build({ stdin: { contents: source, resolveDir: here('src'), loader: 'ts' }, bundle: true, write: false, format: 'esm' });
  const { Ask, Core, Events, START } = await import(`data:text/javascript;base64,${Buffer.from(built.outputFiles[0].text).toString('base64')}`);
  const core = new Core(new WebAssembly.Module(bytes));
  const events = new Events();
  events.tell(START);
  const text = core.read(events) === null ? core.ask(Ask.plan, -1, 2) : null;
  if (text === null) {
    throw new Error('the core has no answer for the scene that the page begins with');
  }
  return text;
}

const hash = (text) => `'sha256-${createHash('sha256').update(text).digest('base64')}'`;
// A script ends at the first closing tag, even inside a string.
const inScript = (text) => text.replace(/<\/(script)/gi, '<\\/$1').replace(/<!--/g, '<\\!--');

const worker = await bundle('src/worker.ts');
const moduleBytes = readFileSync(modulePath);
const script = (await bundle('src/main.ts', {
  WORKER_TEXT: JSON.stringify(worker), CORE_ID: JSON.stringify(createHash('sha256').update(moduleBytes).digest('hex').slice(0, 16)),
})).trim();
const start = inScript((await bundle('src/start.ts')).trim());
const style = (await build({ entryPoints: [here('src/style.css')], minify: true, write: false })).outputFiles[0].text.trim();
const icon = readFileSync(here('src/icon.svg'), 'utf8').trim();

/// As small as gzip can be: zopfli takes two seconds longer than zlib, and the file is a twentieth smaller.
function pack(bytes) {
  const folder = mkdtempSync(join(tmpdir(), 'firnhaul-'));
  try {
    const plain = join(folder, 'plain');
    writeFileSync(plain, bytes);
    return execFileSync('zopfli', ['--gzip', '-c', plain], { maxBuffer: 2 * bytes.length + 1024 }).toString('base64');
  } finally {
    rmSync(folder, { recursive: true });
  }
}

const core = pack(moduleBytes);
const packed = pack(script);

const policy = ["default-src 'none'", `script-src ${hash(start)} ${hash(script)} 'wasm-unsafe-eval'`, `style-src ${hash(style)}`, 'img-src data: blob:', "worker-src blob: 'self'",
  "manifest-src 'self'", "base-uri 'none'", "form-action 'none'"].join('; ');
const parts = { CSP: policy, ICON: encodeURIComponent(icon), STYLE: style, CORE: core, SCRIPT: packed, START: start, ANSWER: await startAnswer(moduleBytes) };
const html = readFileSync(here('src/index.html'), 'utf8').replace(/@([A-Z]+)@/g, (_all, name) => parts[name]);
// A browser reads plain ASCII in half the time.
const strange = /[^\x00-\x7f]/.exec(html);
if (strange !== null) {
  throw new Error(`"${strange[0]}" in the page is no ASCII`);
}
const size = html.length;
if (size >= LARGEST) {
  console.error(`the page has ${size} bytes; at most ${LARGEST}`);
  process.exit(1);
}
writeFileSync(`${out}.part`, html);
renameSync(`${out}.part`, out);
console.log(`${out}: ${size} bytes (core ${core.length}, script ${packed.length}, style ${style.length})`);
