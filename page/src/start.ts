// SPDX-License-Identifier: MIT
// Unpacks the page's two parts side by side: the core, and the script, which then runs and takes the core. The page's policy names
// the unpacked script by its hash: nothing else would run.
import { fromBase64, gunzip } from './pack';

const SCRIPT_MAX = 4 * 1024 * 1024;
const MODULE_MAX = 16 * 1024 * 1024;

export interface Unpacked { bytes: ArrayBuffer; module: WebAssembly.Module }
declare global {
  interface Window { firnhaulCore?: Promise<Unpacked> }
}

const unpack = (id: string, most: number): Promise<Uint8Array<ArrayBuffer>> => gunzip(fromBase64((document.getElementById(id)?.textContent ?? '').trim()), most);

async function core(): Promise<Unpacked> {
  const bytes = await unpack('core', MODULE_MAX);
  return { bytes: bytes.buffer, module: await WebAssembly.compile(bytes) };
}

async function start(): Promise<void> {
  window.firnhaulCore = core();
  window.firnhaulCore.catch(() => undefined);  // who takes it says what is wrong
  const script = document.createElement('script');
  script.textContent = new TextDecoder().decode(await unpack('script', SCRIPT_MAX));
  document.head.append(script);
}

start().catch(() => {
  const say = document.createElement('p');
  say.setAttribute('role', 'alert');
  say.textContent = 'This browser cannot open the page. It needs WebAssembly and DecompressionStream: Chromium 103, Firefox 115, Safari 16.4, or later.';
  document.body.replaceChildren(say);
});
