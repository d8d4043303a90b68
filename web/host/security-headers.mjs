// What the server tells the browser to forbid. The content policy also stands in index.html, for
// hosts that send no headers of their own; `frame-ancestors` counts in a header only. The tests hold
// the two together.

import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';

/** The one script that stands in the HTML itself, without what is written for those who read it. */
export const FIRST_LINES = readFileSync(new URL('./first-lines.js', import.meta.url), 'utf8')
  .replaceAll(/^\s*\/\/.*$|\/\*\*[\s\S]*?\*\//gmu, '')
  .replaceAll(/\s*\n\s*/gu, '\n')
  .trim();

const firstSum = createHash('sha256').update(FIRST_LINES).digest('base64');

/** The policy of index.html. */
export const pagePolicy = [
  "default-src 'self'",
  `script-src 'self' 'sha256-${firstSum}'`,
  "style-src 'self'",
  "img-src 'self' data: blob:",
  "connect-src 'self'",
  "worker-src 'self'",
  "object-src 'none'",
  "base-uri 'none'",
  "form-action 'none'",
].join('; ');

/** @type {Readonly<Record<string, string>>} */
export const securityHeaders = {
  'Content-Security-Policy': `${pagePolicy}; frame-ancestors 'none'`,
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'Permissions-Policy':
    'camera=(), geolocation=(), microphone=(), payment=(), usb=(), browsing-topics=()',
  'Referrer-Policy': 'no-referrer',
  'X-Content-Type-Options': 'nosniff',
  'X-Frame-Options': 'DENY',
};
