// SPDX-License-Identifier: MIT
// Runs a WASI command from the tree's root: node --experimental-wasi-unstable-preview1 wasi.mjs MODULE [ARG ...]
import { readFileSync } from 'node:fs';
import { WASI } from 'node:wasi';

const [path, ...rest] = process.argv.slice(2);
const wasi = new WASI({ version: 'preview1', args: [path, ...rest], env: {}, preopens: { '.': '.' }, returnOnExit: true });
const instance = new WebAssembly.Instance(new WebAssembly.Module(readFileSync(path)), {
  wasi_snapshot_preview1: wasi.wasiImport,
});
process.exitCode = wasi.start(instance);
