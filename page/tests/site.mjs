// SPDX-License-Identifier: MIT
// From a web server the page can be installed, and then opens without the server.
// usage: node site.mjs NATIVE
import assert from 'node:assert/strict';
import { createServer } from 'node:http';
import { mkdtempSync, readFileSync, readdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { claim, end, launch, native, ready } from './lib.mjs';

const folder = join(mkdtempSync(join(tmpdir(), 'firnhaul-site-')), 'site');
const got = native(process.argv[2], ['page', 'examples/two-person.yaml', '--site', folder]);
const TYPES = { html: 'text/html; charset=utf-8', js: 'text/javascript', webmanifest: 'application/manifest+json', svg: 'image/svg+xml' };
const asked = [];
const server = createServer((request, response) => {
  const name = request.url.replace(/[?#].*$/, '').slice(1);
  asked.push(name);
  try {
    const body = readFileSync(join(folder, name));
    response.writeHead(200, { 'content-type': TYPES[name.split('.').pop()] });
    response.end(body);
  } catch {
    response.writeHead(404);
    response.end();
  }
});
await new Promise((done) => { server.listen(0, '127.0.0.1', done); });
const url = `http://localhost:${server.address().port}/firnhaul.html`;
const browser = await launch('chromium');

await claim('the program writes the page and its side files', () => {
  assert.equal(got.status, 0, got.err);
  assert.deepEqual(readdirSync(folder).sort(), ['firnhaul-icon.svg', 'firnhaul-offline.js', 'firnhaul.html', 'firnhaul.webmanifest']);
  const manifest = JSON.parse(readFileSync(join(folder, 'firnhaul.webmanifest'), 'utf8'));
  assert.equal(manifest.start_url, 'firnhaul.html');
  assert.equal(manifest.display, 'standalone');
});

await claim('served once, it opens without the server, and asks for nothing but its own files', async () => {
  const context = await browser.newContext();
  const page = await context.newPage();
  await page.goto(url);
  await ready(page);
  await page.evaluate(() => navigator.serviceWorker.ready);
  await page.waitForFunction(async () => (await caches.keys()).length === 1 && (await (await caches.open((await caches.keys())[0])).keys()).length === 3);
  assert.equal(await page.locator('link[rel=manifest]').getAttribute('href'), 'firnhaul.webmanifest');
  assert.deepEqual(asked.filter((name) => !/^firnhaul[.-]/.test(name)), []);
  server.closeAllConnections?.();
  await new Promise((done) => { server.close(done); });
  await page.reload();
  await ready(page);
  assert.match(await page.locator('#answer').textContent(), /Rigs: \d/);
  await context.close();
});

await browser.close();
end();
