// Bytes made smaller and unpacked again. Unpacking is bounded while it runs: a few kilobytes can ask
// for gigabytes, so the stream is left as soon as it has given more than it may.

/** Why bytes could not be unpacked. */
export class PackingFault extends Error {
  readonly why: 'damaged' | 'too large';

  constructor(why: 'damaged' | 'too large') {
    super(why);
    this.name = 'PackingFault';
    this.why = why;
  }
}

/** A pipe of the platform; its types do not say that it takes any view of bytes. */
interface BytePipe {
  readonly readable: ReadableStream<Uint8Array<ArrayBuffer>>;
  readonly writable: WritableStream<BufferSource>;
}

async function throughPipe(
  bytes: Uint8Array<ArrayBuffer>,
  pipe: BytePipe,
  most: number,
): Promise<Uint8Array<ArrayBuffer>> {
  const writer = pipe.writable.getWriter();
  // Both ends report a fault; the reading end is the one listened to.
  const written = writer.write(bytes).then(() => writer.close());
  written.catch(() => undefined);
  const reader = pipe.readable.getReader();
  const parts: Uint8Array<ArrayBuffer>[] = [];
  let length = 0;
  for (;;) {
    const { done, value } = await reader.read();
    if (done) break;
    length += value.length;
    if (length > most) {
      await reader.cancel().catch(() => undefined);
      throw new PackingFault('too large');
    }
    parts.push(value);
  }
  return joined(parts, length);
}

/** Parts laid one after the other. */
export function joined(
  parts: readonly Uint8Array[],
  length = parts.reduce((sum, part) => sum + part.length, 0),
): Uint8Array<ArrayBuffer> {
  const whole = new Uint8Array(length);
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}

export function deflated(bytes: Uint8Array<ArrayBuffer>): Promise<Uint8Array<ArrayBuffer>> {
  return throughPipe(bytes, new CompressionStream('deflate-raw'), Number.POSITIVE_INFINITY);
}

/** Unpacks at most so many bytes. Throws a PackingFault when they are damaged or more. */
export async function inflated(
  bytes: Uint8Array<ArrayBuffer>,
  most: number,
): Promise<Uint8Array<ArrayBuffer>> {
  try {
    return await throughPipe(bytes, new DecompressionStream('deflate-raw'), most);
  } catch (reason) {
    throw reason instanceof PackingFault ? reason : new PackingFault('damaged');
  }
}

const CRC_TABLE = Uint32Array.from({ length: 256 }, (_, byte) => {
  let value = byte;
  for (let bit = 0; bit < 8; bit++) value = value & 1 ? (value >>> 1) ^ 0xedb88320 : value >>> 1;
  return value >>> 0;
});

/** The check sum of ISO 3309, as archives have it. */
export function checkSum(bytes: Uint8Array): number {
  let sum = 0xffffffff;
  for (const byte of bytes) sum = (CRC_TABLE[(sum ^ byte) & 0xff] ?? 0) ^ (sum >>> 8);
  return (sum ^ 0xffffffff) >>> 0;
}
