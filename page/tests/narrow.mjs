// SPDX-License-Identifier: MIT
// On a phone: nothing is cut, nothing sticks out, in any view, language and look; figures can be read; thumb and figure are together;
// numbers are written as the language writes them.
// usage: node narrow.mjs chromium|firefox PAGE.html
import assert from 'node:assert/strict';
import { assertNoRequests, claim, end, launch, open, settled } from './lib.mjs';

const [name, file] = process.argv.slice(2);
const browser = await launch(name);
const isFirefox = name === 'firefox';
const LOCALES = { en: 'en-GB', de: 'de-DE', fr: 'fr-FR', it: 'it-IT' };
const VIEWS = ['scene', 'rigs', 'rig', 'sheet', 'team', 'learn'];
const SMALLEST = 11.5;  // [CSS px] of a label in the section: 7.5 pt of a figure 224 pt wide

/// Shows a view with all that opens in it opened.
async function show(page, view) {
  await page.evaluate((v) => document.querySelector(`#tabs [data-view="${v}"], #tab-${v}`).click(), view);
  await page.evaluate(() => {
    document.querySelectorAll('.panel details').forEach((d) => { d.open = true; });
    document.querySelectorAll('.panel button.said[aria-expanded=false]').forEach((b) => b.click());
  });
  await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
}

/// What holds more than it shows, or leaves the screen. A table may be moved sideways, a figure has its own scale.
function cut() {
  const found = [];
  const width = document.documentElement.clientWidth;
  if (document.documentElement.scrollWidth > width) {
    found.push(`the page is ${document.documentElement.scrollWidth} wide`);
  }
  for (const e of document.querySelectorAll('body *')) {
    const box = e.getBoundingClientRect();
    const style = getComputedStyle(e);
    if (!(e instanceof HTMLElement) || box.width === 0 || style.visibility === 'hidden' || e.closest('.scroll, svg') !== null) {
      continue;
    }
    const words = `${e.tagName} ${e.className} "${e.textContent.slice(0, 40)}"`;
    if (box.right > width + 1 || box.left < -1) {
      found.push(`${words} reaches from ${Math.round(box.left)} to ${Math.round(box.right)}`);
    } else if (style.display !== 'inline' && e.scrollWidth > e.clientWidth + 1 && !['SELECT', 'INPUT'].includes(e.tagName) && e.querySelector('#section') === null) {
      found.push(`${words} holds ${e.scrollWidth}, shows ${e.clientWidth}`);
    }
  }
  return found;
}

/// Words of a button, a table's head or a piece of gear of which a part stands on another line. A word may break where it has a hyphen.
function broken() {
  const found = [];
  for (const e of document.querySelectorAll('button, th, .counter b')) {
    const walk = document.createTreeWalker(e, NodeFilter.SHOW_TEXT);
    for (let node = walk.nextNode(); node !== null && e.checkVisibility(); node = walk.nextNode()) {
      for (const word of node.data.matchAll(/[\p{L}’\u00AD]+/gu)) {
        if (word[0].includes('\u00AD')) {
          continue;  // it has its own hyphens
        }
        const range = document.createRange();
        range.setStart(node, word.index);
        range.setEnd(node, word.index + word[0].length);
        if (new Set([...range.getClientRects()].filter((box) => box.width > 0).map((box) => Math.round(box.top))).size > 1) {
          found.push(`${e.tagName} "${e.textContent.slice(0, 40)}": ${word[0]}`);
        }
      }
    }
  }
  return found;
}

for (const language of isFirefox ? ['de'] : ['en', 'de', 'fr', 'it']) {
  for (const look of ['light', 'glare']) {
    await claim(`${name}, ${language}, ${look}: no text is cut in any view`, async () => {
      const { context, page, seen } = await open(browser, file, { size: 'phone', locale: LOCALES[language], isFirefox });
      await page.evaluate((l) => { document.documentElement.dataset.look = l; }, look);
      for (const view of VIEWS) {
        await show(page, view);
        assert.deepEqual(await page.evaluate(cut), [], view);
        assert.deepEqual(await page.evaluate(broken), [], `${view}: broken words`);
        if (view === 'team') {
          await page.waitForSelector('#team table');
          const [needs, has] = await page.evaluate(() => { const e = document.querySelector('#team .scroll'); return [e.scrollWidth, e.clientWidth]; });
          assert.ok(needs <= has, `who slides how far: the table needs ${needs}, has ${has}`);
          await page.waitForSelector('#team-lines p');
          const sheet = await page.evaluate(() => ({ size: Math.min(...[...document.querySelectorAll('#team-lines p')].map((p) => Number.parseFloat(getComputedStyle(p).fontSize))),
            words: document.getElementById('team-lines').innerText.replace(/\s+/g, ' ').trim(), drawn: [...document.querySelectorAll('#team-sheet text')].map((word) => word.textContent).join(' ').replace(/\s+/g, ' ').trim() }));
          assert.ok(sheet.size >= 15, `the trip sheet is read at ${sheet.size} px`);
          assert.equal(sheet.words, sheet.drawn, 'and says what the printed one says');
        }
      }
      assertNoRequests(seen, file);
      await context.close();
    });
  }
}

await claim(`${name}: ways to rope up fit a phone in glare, to the column that decides`, async () => {
  for (const locale of isFirefox ? ['de-DE'] : Object.values(LOCALES)) {
    const { context, page } = await open(browser, file, { size: 'phone', locale, isFirefox });
    await page.evaluate(() => { document.documentElement.dataset.look = 'glare'; });
    await show(page, 'team');
    await page.locator('#choose-go').click();
    await page.waitForSelector('#choose-result', { timeout: 120000 });
    const rows = await page.evaluate(() => [...document.querySelectorAll('.choose tbody tr')].map((row) => [...row.cells].map((cell) => {
      const box = cell.getBoundingClientRect();
      return { right: box.right, cut: cell.scrollWidth > cell.clientWidth + 1, name: getComputedStyle(cell, '::before').content };
    })));
    assert.ok(rows.length >= 2);
    for (const cell of rows.flat()) {
      assert.ok(cell.right <= 360 && !cell.cut && /\p{L}/u.test(cell.name), `${locale}: ${JSON.stringify(cell)}`);
    }
    await context.close();
  }
});

await claim(`${name}: what is said on top is read in lines, also beside two buttons`, async () => {
  for (const locale of isFirefox ? ['de-DE'] : Object.values(LOCALES)) {
    const { context, page } = await open(browser, file, { size: 'phone', locale, isFirefox });
    await page.evaluate(() => { document.documentElement.dataset.look = 'glare'; });
    await page.locator('[data-path="slot.depth_m"] .row.slide button').last().click();
    await settled(page);
    await page.setInputFiles('#file', 'examples/soft-snow.yaml');
    await page.waitForSelector('#bring-back');
    const box = await page.locator('#message span').boundingBox();
    assert.ok(box.width >= 160 && box.height <= 140, `${locale}: ${box.width} wide, ${box.height} high`);
    await context.close();
  }
});

await claim(`${name}: labels of the section can be read at once, and the buttons of a pull stand under it in sight`, async () => {
  const { context, page } = await open(browser, file, { size: 'phone', locale: 'de-DE', isFirefox });
  await show(page, 'rig');
  const sizes = await page.evaluate(() => {
    const svg = document.querySelector('#section svg');
    const scale = svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
    return [...svg.querySelectorAll('text')].map((t) => Number(t.getAttribute('font-size')) * scale);
  });
  assert.ok(sizes.length > 5);
  assert.ok(Math.min(...sizes) >= SMALLEST, `the smallest has ${Math.min(...sizes)} px`);
  await page.evaluate(() => scrollTo(0, 0));
  for (const id of ['hand-slider', 'play', 'reset', 'again']) {
    const box = await page.locator(`#${id}`).boundingBox();
    const tabs = await page.locator('#tabs').boundingBox();
    assert.ok(box.y >= 0 && box.y + box.height <= tabs.y + 1, `${id} is at ${box.y}`);
  }
  // What enlarges the figure stands above it, and changes it where one looks.
  const [above, top0] = await page.evaluate(() => [document.getElementById('enlarge').getBoundingClientRect(), document.getElementById('section').getBoundingClientRect().top]);
  assert.ok(above.top >= 0 && above.bottom <= top0, `enlarge ends at ${above.bottom}, the figure begins at ${top0}`);
  const fit = (await page.locator('#section svg').boundingBox()).width;
  await page.locator('#enlarge').click();
  assert.ok((await page.locator('#section svg').boundingBox()).width > 2 * fit);
  await page.locator('#enlarge').click();
  assert.equal((await page.locator('#section svg').boundingBox()).width, fit);
  // Once the hand moves, the strands are not behind the slider that moves it.
  await page.locator('#hand-slider').focus();
  await page.keyboard.press('ArrowRight');
  await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
  const [bottom, top] = await page.evaluate(() => [document.getElementById('section').getBoundingClientRect().bottom, document.querySelector('.pulls').getBoundingClientRect().top]);
  assert.ok(bottom <= top + 1, `the figure ends at ${bottom}, the slider begins at ${top}`);
  await context.close();
});

await claim(`${name}: side by side, each figure can be read, and names and columns tell the two apart`, async () => {
  for (const locale of isFirefox ? ['de-DE'] : ['en-GB', 'de-DE']) {
    const { context, page } = await open(browser, file, { size: 'phone', locale, isFirefox });
    await show(page, 'learn');
    await page.locator('#topic-compare').click();
    const sizes = await page.evaluate(() => [...document.querySelectorAll('#learn .figures svg')].map((svg) => {
      const scale = svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
      return Math.min(...[...svg.querySelectorAll('text')].map((t) => Number(t.getAttribute('font-size')) * scale));
    }));
    assert.equal(sizes.length, 2);
    assert.ok(Math.min(...sizes) >= SMALLEST - 1, `the smallest has ${Math.min(...sizes)} px`);
    const names = await page.locator('#learn figcaption').allTextContents();
    const columns = await page.locator('#learn thead th').allTextContents();
    assert.ok(new Set(names).size === 2 && names.every((text) => /\d:1/.test(text)), names.join('; '));
    assert.ok(columns.slice(0, 2).every((text) => /\d:1/.test(text)), columns.join('; '));
    const choices = await page.locator('#pair-0 optgroup:first-child option').allTextContents();
    assert.equal(new Set(choices.map((text) => text.replace(/^\d+: /, ''))).size, choices.length, `told apart by more than their number: ${choices.join('; ')}`);
    assert.deepEqual(await page.evaluate(cut), []);
    assert.deepEqual(await page.evaluate(broken), []);
    await context.close();
  }
});

await claim(`${name}: numbers have the comma that German writes, and a field takes it; English keeps the point`, async () => {
  const german = await open(browser, file, { size: 'phone', locale: 'de-DE', isFirefox });
  await show(german.page, 'rig');
  const POINT = /(?<![\w.])\d+\.\d+(?![\d.])/;
  const words = async (page) => page.evaluate(() => `${document.querySelector('#rig').innerText} ${document.querySelector('#section svg').textContent}`);
  assert.doesNotMatch(await words(german.page), POINT);
  assert.match(await words(german.page), /\d,\d/);
  await show(german.page, 'scene');
  const field = german.page.locator('[data-path="slot.depth_m"]');
  await field.locator('input.number').first().fill('7,5');
  await field.locator('input.number').first().press('Tab');
  await settled(german.page);
  assert.match(await field.locator('.said').textContent(), /7,5/);
  await german.context.close();
  const english = await open(browser, file, { size: 'phone', isFirefox });
  await show(english.page, 'rig');
  assert.match(await words(english.page), POINT);
  await english.context.close();
});

await browser.close();
end();
