// SPDX-License-Identifier: MIT
// Packed bytes as text, and back: the page's own parts and scenes in links.

/// Plain or for addresses (RFC 4648, sections 4 and 5).
export function fromBase64(text: string): Uint8Array<ArrayBuffer> {
  const plain = text.replace(/-/g, '+').replace(/_/g, '/');
  const quick = (Uint8Array as { fromBase64?: (text: string) => Uint8Array<ArrayBuffer> }).fromBase64;
  if (quick !== undefined) {  // newer browsers
    return quick.call(Uint8Array, plain);
  }
  const raw = atob(plain);
  const bytes = new Uint8Array(raw.length);
  for (let i = 0; i < raw.length; i++) {
    bytes[i] = raw.charCodeAt(i);
  }
  return bytes;
}

/// Reads a stream up to a bound: a small link must not unfold into an endless text.
export async function gather(stream: ReadableStream<Uint8Array>, most: number): Promise<Uint8Array<ArrayBuffer>> {
  const parts: Uint8Array[] = [];
  let size = 0;
  const reader = stream.getReader();
  for (;;) {
    const { done, value } = await reader.read();
    if (done) {
      break;
    }
    size += value.length;
    if (size > most) {
      await reader.cancel();
      throw new RangeError('too large');
    }
    parts.push(value);
  }
  const all = new Uint8Array(size);
  let at = 0;
  for (const part of parts) {
    all.set(part, at);
    at += part.length;
  }
  return all;
}

export function through(bytes: Uint8Array<ArrayBuffer>, transform: CompressionStream | DecompressionStream): ReadableStream<Uint8Array> {
  return new Blob([bytes]).stream().pipeThrough(transform as unknown as ReadableWritablePair<Uint8Array, Uint8Array>);
}

export async function gunzip(bytes: Uint8Array<ArrayBuffer>, most: number): Promise<Uint8Array<ArrayBuffer>> {
  return gather(through(bytes, new DecompressionStream('gzip')), most);
}
