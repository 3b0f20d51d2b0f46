// SPDX-License-Identifier: MIT
// For everyone: axe-core finds nothing in any view, language or look, and everything can be reached and seen with the keyboard.
// usage: node access.mjs chromium|firefox PAGE.html
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { assertNoRequests, claim, end, launch, open } from './lib.mjs';

const [name, file] = process.argv.slice(2);
const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const browser = await launch(name);
const isFirefox = name === 'firefox';
const cases = isFirefox ? [['phone', 'en', 'light']] : [['phone', 'en', 'light'], ['phone', 'de', 'dark'], ['tablet', 'fr', 'glare'], ['desktop', 'it', 'light']];

async function violations(page, where) {
  const found = await page.evaluate(async (source) => {
    if (window.axe === undefined) {
      (0, eval)(source);
    }
    const result = await window.axe.run(document, { resultTypes: ['violations'] });
    return result.violations.map((v) => `${v.id}: ${v.nodes.slice(0, 3).map((n) => `${n.html.slice(0, 120)} ${n.any[0]?.message ?? ''}`).join(' | ')}`);
  }, axe).catch(() => null);
  assert.deepEqual(found, [], where);
}

for (const [size, language, look] of cases) {
  await claim(`${name}, ${size}, ${language}, ${look}: axe finds nothing`, async () => {
    const { context, page, seen } = await open(browser, file, { size, isFirefox });
    await page.evaluate(axe);
    await page.locator('#open-menu').click();
    await page.locator(`#set-language-${language}`).click();
    await page.locator(`#set-look-${look}`).click();
    await violations(page, 'menu');
    await page.locator('#close-menu').click();
    for (const view of ['scene', 'rigs', 'rig', 'sheet', 'team', 'learn']) {
      await page.locator(`#tab-${view}`).click();
      if (view === 'team') {
        await page.waitForSelector('#team-sheet svg', { state: 'attached' });
        await page.locator('#choose-go').click();
        await page.waitForSelector('#choose-result', { timeout: 120000 });
      }
      await page.evaluate(() => document.querySelectorAll('details').forEach((d) => { d.open = true; }));
      await violations(page, view);
    }
    for (const topic of ['compare', 'quiz']) {
      await page.locator(`#topic-${topic}`).click();
      await violations(page, topic);
    }
    assertNoRequests(seen, file);
    await context.close();
  });
}

await claim(`${name}: Tab goes through every control, and shows where it is`, async () => {
  const { context, page } = await open(browser, file, { size: 'phone', isFirefox });
  const total = await page.evaluate(() => Array.from(document.querySelectorAll('button, select, input, summary')).filter((e) => e.checkVisibility() && !e.closest('dialog') && e.tabIndex >= 0).length);
  await page.bringToFront();
  const reached = new Set();
  let drawn = 0;
  for (let i = 0; i < total + 5; i++) {
    await page.keyboard.press('Tab');
    const at = await page.evaluate(() => {
      const e = document.activeElement;
      if (e === document.body) { return null; }
      e.dataset.reached ??= String(Math.random());
      // Where the driver gives the window no focus of its own (Firefox), nothing matches :focus: then only the way is tested.
      return [e.dataset.reached, getComputedStyle(e).outlineStyle, getComputedStyle(e).outlineWidth, e.outerHTML.slice(0, 90), e.matches(':focus')];
    });
    if (at !== null) {
      reached.add(at[0]);
      if (at[4]) {
        drawn += 1;
        assert.equal(at[1], 'solid', at[3]);
        assert.ok(Number.parseFloat(at[2]) >= 2);
      }
    }
  }
  assert.ok(reached.size >= total, `${reached.size} of ${total}`);
  assert.ok(drawn > 0 || isFirefox);
  await context.close();
});

await claim(`${name}: by keyboard alone, the views are at hand from the first key on`, async () => {
  const { context, page } = await open(browser, file, { size: 'desktop', isFirefox });
  await page.bringToFront();
  const at = () => page.evaluate(() => document.activeElement.id);
  const view = () => page.evaluate(() => document.body.dataset.view);
  await page.keyboard.press('Tab');
  assert.equal(await at(), 'skip');
  assert.match(await page.locator('#skip').textContent(), /^Skip to: Scene$/);
  assert.ok((await page.locator('#skip').boundingBox()).y >= 0, 'where the focus is can be seen');
  await page.keyboard.press('Tab');
  assert.equal(await at(), 'open-menu');
  await page.keyboard.press('Tab');
  assert.equal(await at(), 'tab-scene', 'two keys more, and the views are there');
  await page.keyboard.press('ArrowRight');
  assert.equal(await at(), 'tab-rigs');
  assert.equal(await view(), 'scene', 'an arrow only goes along');
  await page.keyboard.press('End');
  assert.equal(await at(), 'tab-learn');
  await page.keyboard.press('ArrowRight');
  assert.equal(await at(), 'tab-scene', 'round');
  await page.keyboard.press('ArrowLeft');
  await page.keyboard.press('Enter');
  assert.equal(await view(), 'learn');
  assert.equal(await at(), 'learn', 'what opens has the focus');
  assert.deepEqual(await page.locator('[role=tab]').evaluateAll((tabs) => tabs.filter((tab) => tab.getAttribute('aria-selected') === 'true' && tab.tabIndex === 0).map((tab) => tab.id)), ['tab-learn']);
  await page.locator('#tab-learn').focus();
  await page.keyboard.press('Home');
  await page.keyboard.press(' ');
  assert.equal(await view(), 'scene');
  await page.locator('#skip').focus();
  await page.keyboard.press('Enter');
  assert.equal(await at(), 'scene', 'past the views, to what they show');
  assert.equal(await view(), 'scene');
  await context.close();
});

await browser.close();
end();
