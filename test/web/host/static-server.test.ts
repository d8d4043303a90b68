// The server of `npm start`, over real sockets: what it gives, what it refuses, what it tells the
// browser. Codes and header meanings are those of RFC 9110 and RFC 9111.

import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { connect } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { projectRoot } from '../../../web/host/prepare.mjs';
import { pagePolicy, securityHeaders } from '../../../web/host/security-headers.mjs';
import { createStaticServer, listen } from '../../../web/host/static-server.mjs';

const host = '127.0.0.1';
const outer = mkdtempSync(join(tmpdir(), 'dapple-server-'));
const folder = join(outer, 'site');
const script = `export const text = '${'dapple '.repeat(400)}';\n`;

mkdirSync(join(folder, 'assets'), { recursive: true });
writeFileSync(join(outer, 'secret.txt'), 'not for the net');
writeFileSync(join(folder, 'index.html'), '<!doctype html><title>start</title>');
writeFileSync(join(folder, 'assets', 'main-1a2b3c4d.js'), script);
writeFileSync(join(folder, 'icon.svg'), '<svg xmlns="http://www.w3.org/2000/svg"/>');
writeFileSync(join(folder, 'manifest.webmanifest'), '{}');

const server = createStaticServer(folder);
let port = 0;

beforeAll(async () => {
  port = await listen(server, { host, port: 0 });
});

afterAll(() => {
  server.close();
  server.closeAllConnections();
  rmSync(outer, { recursive: true });
});

const get = (path: string, init?: RequestInit): Promise<Response> =>
  fetch(`http://${host}:${port}${path}`, init);

/** Sends the path as it stands; `fetch` would tidy away its dots. Gives the status. */
function statusOfRaw(path: string): Promise<number> {
  return new Promise((resolve, reject) => {
    const socket = connect(port, host, () => {
      socket.write(`GET ${path} HTTP/1.1\r\nHost: ${host}\r\nConnection: close\r\n\r\n`);
    });
    let answer = '';
    socket.on('data', (data) => {
      answer += data;
    });
    socket.on('end', () => resolve(Number(answer.split(' ')[1])));
    socket.on('error', reject);
  });
}

test.each([
  ['/', 'text/html; charset=utf-8', 'no-cache'],
  ['/index.html?from=link', 'text/html; charset=utf-8', 'no-cache'],
  [
    '/assets/main-1a2b3c4d.js',
    'text/javascript; charset=utf-8',
    'public, max-age=31536000, immutable',
  ],
  ['/icon.svg', 'image/svg+xml', 'no-cache'],
  ['/manifest.webmanifest', 'application/manifest+json', 'no-cache'],
])('%s is served as %s with every security header', async (path, type, caching) => {
  const response = await get(path);
  expect(response.status).toBe(200);
  expect(response.headers.get('content-type')).toBe(type);
  expect(response.headers.get('cache-control')).toBe(caching);
  for (const [name, value] of Object.entries(securityHeaders)) {
    expect(response.headers.get(name), name).toBe(value);
  }
});

test('a script arrives whole, compressed for those who ask', async () => {
  const plain = await get('/assets/main-1a2b3c4d.js', {
    headers: { 'Accept-Encoding': 'identity' },
  });
  expect(plain.headers.get('content-encoding')).toBeNull();
  expect(await plain.text()).toBe(script);
  const compressed = await get('/assets/main-1a2b3c4d.js', {
    headers: { 'Accept-Encoding': 'gzip' },
  });
  expect(compressed.headers.get('content-encoding')).toBe('gzip');
  expect(Number(compressed.headers.get('content-length'))).toBeLessThan(script.length / 4);
  expect(await compressed.text()).toBe(script);
});

test('an unchanged file is not sent again', async () => {
  const tag = (await get('/')).headers.get('etag') ?? '';
  const again = await get('/', { headers: { 'If-None-Match': tag } });
  expect(again.status).toBe(304);
  expect(await again.text()).toBe('');
});

test.each([
  '/absent.js',
  '/assets/',
  '/../secret.txt',
  '/%2e%2e/secret.txt',
  '/assets/../../secret.txt',
  '/..%2fsecret.txt',
  '/%00',
])('%s is not there, and the answer is as guarded as any', async (path) => {
  expect(await statusOfRaw(path)).toBe(404);
  const response = await get('/absent.js');
  expect(response.headers.get('x-content-type-options')).toBe('nosniff');
});

test('an address that cannot be read is a bad request', async () => {
  expect(await statusOfRaw('/%zz')).toBe(400);
});

test('nothing can be sent to it', async () => {
  const response = await get('/', { method: 'POST', body: 'x' });
  expect(response.status).toBe(405);
  expect(response.headers.get('allow')).toBe('GET, HEAD');
});

test('HEAD tells the length and sends nothing', async () => {
  const response = await get('/', { method: 'HEAD' });
  expect(response.headers.get('content-length')).toBe('35');
  expect(await response.text()).toBe('');
});

test('a taken port gives way to the next free one', async () => {
  const second = createStaticServer(folder);
  const got = await listen(second, { host, port });
  second.close();
  expect(got).toBeGreaterThan(port);
});

test('the page states the same policy as the header, which adds who may frame it', () => {
  const page = readFileSync(join(projectRoot, 'web/index.html'), 'utf8');
  const stated = page.match(/http-equiv="Content-Security-Policy"\s+content="([^"]*)"/)?.[1];
  expect(stated).toBe(pagePolicy);
  expect(securityHeaders['Content-Security-Policy']).toBe(`${pagePolicy}; frame-ancestors 'none'`);
  expect(pagePolicy).not.toMatch(/unsafe/);
});
