// Serves one built folder. The folder is read once, when the server is made: a request is looked up
// in a table of known addresses and never becomes a path on the disk, so no address reaches outside.
// Names in assets/ carry a hash of their content and may be kept for ever; every other file is asked
// for again each time and answered by its tag.

import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { createServer } from 'node:http';
import { extname, join, sep } from 'node:path';
import { gzipSync } from 'node:zlib';
import { securityHeaders } from './security-headers.mjs';

/** @type {Readonly<Record<string, string>>} */
const CONTENT_TYPES = {
  '.css': 'text/css; charset=utf-8',
  '.dapple': 'text/plain; charset=utf-8',
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.json': 'application/json',
  '.map': 'application/json',
  '.png': 'image/png',
  '.svg': 'image/svg+xml',
  '.txt': 'text/plain; charset=utf-8',
  '.webmanifest': 'application/manifest+json',
  '.woff2': 'font/woff2',
};

const KEPT_FOR_EVER = 'public, max-age=31536000, immutable';
const ASKED_AGAIN = 'no-cache';
/** Below this many bytes compression gains nothing. */
const SMALLEST_TO_COMPRESS = 1024;
const PORTS_TO_TRY = 50;

/**
 * @typedef {object} ServedFile
 * @property {Buffer} body
 * @property {Buffer | undefined} compressed made on the first request that wants it
 * @property {boolean} compressible
 * @property {Readonly<Record<string, string>>} headers
 */

/**
 * @param {string} folder
 * @param {string} name relative to the folder, with forward slashes
 * @returns {ServedFile}
 */
function servedFile(folder, name) {
  const body = readFileSync(join(folder, name));
  const type = CONTENT_TYPES[extname(name)] ?? 'application/octet-stream';
  return {
    body,
    compressed: undefined,
    compressible:
      body.length >= SMALLEST_TO_COMPRESS &&
      /^text\/|json$|svg\+xml$/.test(type.split(';')[0] ?? ''),
    headers: {
      'Cache-Control': name.startsWith('assets/') ? KEPT_FOR_EVER : ASKED_AGAIN,
      'Content-Type': type,
      ETag: `"${createHash('sha256').update(body).digest('base64url').slice(0, 22)}"`,
      Vary: 'Accept-Encoding',
    },
  };
}

/**
 * @param {string} folder
 * @returns {Map<string, ServedFile>} path of an address → file
 */
function readFolder(folder) {
  const files = new Map(
    readdirSync(folder, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map((entry) => join(entry.parentPath, entry.name).slice(join(folder, sep).length))
      .map((name) => name.split(sep).join('/'))
      .map((name) => [`/${name}`, servedFile(folder, name)]),
  );
  const start = files.get('/index.html');
  if (start) files.set('/', start);
  return files;
}

/**
 * The path an address asks for, without its query; undefined when it is no valid address.
 *
 * @param {string} url
 * @returns {string | undefined}
 */
function pathOf(url) {
  try {
    return decodeURIComponent(url.split(/[?#]/, 1)[0] ?? '');
  } catch {
    return undefined;
  }
}

/**
 * A server for a built folder, not yet listening.
 *
 * @param {string} folder
 * @returns {import('node:http').Server}
 */
export function createStaticServer(folder) {
  const files = readFolder(folder);

  return createServer((request, response) => {
    /** @type {(status: number, headers: Readonly<Record<string, string>>, body?: Buffer | string) => void} */
    const answer = (status, headers, body = '') => {
      response.writeHead(status, {
        ...securityHeaders,
        ...headers,
        ...(status === 304 ? {} : { 'Content-Length': Buffer.byteLength(body) }),
      });
      response.end(request.method === 'HEAD' ? undefined : body);
    };
    const plain = { 'Cache-Control': ASKED_AGAIN, 'Content-Type': 'text/plain; charset=utf-8' };

    if (request.method !== 'GET' && request.method !== 'HEAD') {
      answer(405, { ...plain, Allow: 'GET, HEAD' }, 'Only GET and HEAD.\n');
      return;
    }
    const path = pathOf(request.url ?? '/');
    const file = path === undefined ? undefined : files.get(path);
    if (!file) {
      answer(path === undefined ? 400 : 404, plain, 'There is nothing here.\n');
      return;
    }
    if (request.headers['if-none-match'] === file.headers.ETag) {
      answer(304, file.headers);
      return;
    }
    if (file.compressible && /\bgzip\b/.test(request.headers['accept-encoding'] ?? '')) {
      file.compressed ??= gzipSync(file.body);
      answer(200, { ...file.headers, 'Content-Encoding': 'gzip' }, file.compressed);
      return;
    }
    answer(200, file.headers, file.body);
  });
}

/**
 * Listens on the wanted port, or on the next one that is free. Port 0 takes any.
 *
 * @param {import('node:http').Server} server
 * @param {{ readonly host: string, readonly port: number }} wanted
 * @returns {Promise<number>} the port it got
 */
export async function listen(server, { host, port }) {
  const last = Math.min(port + PORTS_TO_TRY, 65535);
  for (let candidate = port; candidate <= last; candidate++) {
    const got = await tryPort(server, host, candidate);
    if (got !== undefined) return got;
  }
  throw new Error(`No port from ${port} to ${last} is free.`);
}

/**
 * @param {import('node:http').Server} server
 * @param {string} host
 * @param {number} port
 * @returns {Promise<number | undefined>} undefined when the port is taken
 */
function tryPort(server, host, port) {
  return new Promise((resolve, reject) => {
    /** @type {(error: NodeJS.ErrnoException) => void} */
    const refuse = (error) => (error.code === 'EADDRINUSE' ? resolve(undefined) : reject(error));
    server.once('error', refuse);
    server.listen(port, host, () => {
      server.off('error', refuse);
      const address = server.address();
      resolve(typeof address === 'object' && address ? address.port : port);
    });
  });
}
