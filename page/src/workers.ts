// SPDX-License-Identifier: MIT
// A worker of the page's own, with the module in it.
declare const WORKER_TEXT: string;

/// Throws where there are no workers.
export function newWorker(module: WebAssembly.Module): Worker {
  const worker = new Worker(URL.createObjectURL(new Blob([WORKER_TEXT], { type: 'text/javascript' })));
  worker.postMessage({ module });
  return worker;
}
