// SPDX-License-Identifier: MIT
// Unpacks the page's two parts: the script, which runs at once, and the core, once the script asks for it: a first answer came with
// the page, and shows before the core runs. The page's policy names the unpacked script by its hash: nothing else would run.
import { fromBase64 } from './pack';

declare global {
  interface Window { firnhaulCore?: () => Promise<WebAssembly.Module> }
}

/// A packed part of the page, which then is of no more use.
function unpack(id: string): ReadableStream<Uint8Array<ArrayBuffer>> {
  const element = document.getElementById(id);
  const { writable, readable } = new DecompressionStream('gzip');
  const writer = writable.getWriter();
  // What fails here fails for the reader as well, who says so.
  writer.write(fromBase64((element?.textContent ?? '').trim())).catch(() => undefined);
  writer.close().catch(() => undefined);
  element?.remove();
  return readable as ReadableStream<Uint8Array<ArrayBuffer>>;
}

/// The core stands last in the page: over a slow net it may not be there yet.
async function core(): Promise<WebAssembly.Module> {
  if (document.readyState === 'loading') {
    await new Promise((done) => document.addEventListener('DOMContentLoaded', done));
  }
  return WebAssembly.compileStreaming(new Response(unpack('core'), { headers: { 'content-type': 'application/wasm' } }));
}

async function start(): Promise<void> {
  window.firnhaulCore = core;
  const script = document.createElement('script');
  script.textContent = await new Response(unpack('script')).text();
  document.head.append(script);
}

start().catch(() => {
  const say = document.createElement('p');
  say.setAttribute('role', 'alert');
  say.textContent = 'This browser cannot open the page. It needs WebAssembly and DecompressionStream: Chromium 103, Firefox 115, Safari 16.4, or later.';
  document.body.replaceChildren(say);
});
