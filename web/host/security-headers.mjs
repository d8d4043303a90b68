// What the server tells the browser to forbid. The content policy also stands in index.html, for
// hosts that send no headers of their own; `frame-ancestors` counts in a header only. The tests hold
// the two together.

/** The policy of index.html. */
export const pagePolicy = [
  "default-src 'self'",
  "script-src 'self'",
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
