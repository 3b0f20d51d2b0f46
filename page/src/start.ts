// SPDX-License-Identifier: MIT
// Unpacks the page's script and runs it. The page's policy names the unpacked text by its hash: nothing else would run.
import { fromBase64, gunzip } from './pack';

const SCRIPT_MAX = 4 * 1024 * 1024;

async function start(): Promise<void> {
  const packed = document.getElementById('script')?.textContent ?? '';
  const script = document.createElement('script');
  script.textContent = new TextDecoder().decode(await gunzip(fromBase64(packed), SCRIPT_MAX));
  document.head.append(script);
}

start().catch(() => {
  const say = document.createElement('p');
  say.setAttribute('role', 'alert');
  say.textContent = 'This browser cannot open the page. It needs WebAssembly and DecompressionStream: Chromium 103, Firefox 115, Safari 16.4, or later.';
  document.body.replaceChildren(say);
});
