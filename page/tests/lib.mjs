// SPDX-License-Identifier: MIT
// What the page's tests share: a browser, the page opened from disk, and proof that nothing went over any net.
import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import { chromium, firefox } from 'playwright-core';

export const SIZES = {
  phone: { width: 360, height: 740 },
  tablet: { width: 820, height: 1180 },
  desktop: { width: 1440, height: 900 },
};

const CHROMIUM = ['/usr/bin/chromium', '/usr/bin/chromium-browser'].find(existsSync);
const FIREFOX = ['/usr/bin/firefox-esr', '/usr/bin/firefox'].find(existsSync);

export async function launch(name) {
  return name === 'firefox'
    ? firefox.launch({ channel: 'moz-firefox', executablePath: FIREFOX })
    : chromium.launch({ executablePath: CHROMIUM, args: ['--no-sandbox', '--disable-dev-shm-usage'] });
}

/// A page in a context of its own: nothing kept from before, no net, every request and error noted.
export async function open(browser, file, options = {}) {
  const { size = 'phone', touch = false, init, hash = '', locale = 'en-GB', reducedMotion = 'reduce', wait = true, isFirefox = false } = options;
  const context = await browser.newContext({
    viewport: SIZES[size], locale, ...(isFirefox ? {} : { hasTouch: touch, isMobile: touch, reducedMotion, acceptDownloads: true }),
  });
  context.setDefaultTimeout(20000);
  await context.setOffline(true);
  if (init !== undefined) {
    await context.addInitScript(init);
  }
  const page = await context.newPage();
  const seen = { requests: [], errors: [] };
  page.on('request', (request) => seen.requests.push(request.url()));
  page.on('pageerror', (error) => {
    // Playwright's own style for pictures is refused by the page's policy, in Firefox as an error: not the page's.
    if (!/blocked an inline style/.test(String(error))) {
      seen.errors.push(String(error));
    }
  });
  await page.goto(pathToFileURL(file).href + hash);
  if (wait) {
    await ready(page);
  }
  return { context, page, seen };
}

export async function ready(page) {
  await page.waitForSelector('html[data-ready]');
  await settled(page);
}

/// Until the search has answered for the newest scene.
export async function settled(page) {
  await page.waitForSelector('#answer:not(.stale) .badge');
}

/// The page itself, and what it made: nothing else may be asked for.
export function assertNoRequests(seen, file) {
  const own = pathToFileURL(file).href;
  const others = seen.requests.filter((url) => !url.startsWith('blob:') && !url.startsWith('data:') && url.replace(/#.*$/s, '') !== own);
  assert.deepEqual(others, [], 'the page asked for something');
  assert.deepEqual(seen.errors, [], 'the page reported errors');
}

/// Ways to use a control. Sliders are moved by keys or by the mouse; touch moves them by a tap on the track.
export function hands(kind, page) {
  const slide = async (selector, part) => {
    const box = await page.locator(selector).first().boundingBox();
    return [box.x + box.width * part, box.y + box.height / 2];
  };
  const reach = async (selector) => {
    await page.locator(selector).first().scrollIntoViewIfNeeded();
  };
  switch (kind) {
    case 'touch': return {
      press: async (selector) => { await clear(page, selector); await page.locator(selector).first().tap(); },
      slide: async (selector, part) => { await clear(page, selector); const [x, y] = await slide(selector, part); await page.touchscreen.tap(x, y); },
    };
    case 'keyboard': return {
      press: async (selector) => { await page.locator(selector).first().focus(); await page.keyboard.press('Enter'); },
      slide: async (selector, part) => {
        await page.locator(selector).first().focus();
        await page.keyboard.press('Home');
        const steps = await page.locator(selector).first().evaluate((e, p) => Math.min(Math.round(((Number(e.max) - Number(e.min)) * p) / Number(e.step || 1)), 40), part);
        for (let i = 0; i < steps; i++) {
          await page.keyboard.press('ArrowRight');
        }
      },
    };
    default: return {
      press: async (selector) => { await reach(selector); await clear(page, selector); await page.locator(selector).first().click(); },
      slide: async (selector, part) => { await reach(selector); await clear(page, selector); const [x, y] = await slide(selector, part); await page.mouse.click(x, y); },
    };
  }
}

/// Scrolls a control into the middle, away from the bars at the edges, as a person does.
async function clear(page, selector) {
  await page.locator(selector).first().evaluate((e) => e.scrollIntoView({ block: 'center' }));
}

export function native(program, args, input) {
  const got = spawnSync(program, args, { encoding: 'utf8', input, maxBuffer: 1 << 28 });
  return { status: got.status, out: got.stdout, err: got.stderr };
}

let failures = 0;
let passed = 0;
/// One claim, by its name.
export async function claim(name, body) {
  const begin = Date.now();
  try {
    await body();
    passed += 1;
    console.log(`ok   ${name} (${Date.now() - begin} ms)`);
  } catch (error) {
    failures += 1;
    console.log(`FAIL ${name}\n${error.stack}`);
  }
}

export function end() {
  console.log(`${passed} claims hold, ${failures} do not`);
  process.exitCode = failures === 0 && passed > 0 ? 0 : 1;
}
