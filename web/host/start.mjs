// `npm start`: installs what is missing, builds the page, serves it and says where.

import { isIP } from 'node:net';
import { parseArgs } from 'node:util';
import { prepare } from './prepare.mjs';

const USAGE = 'npm start -- [--port 4173] [--host 127.0.0.1]';
const DEFAULT_PORT = '4173';
const DEFAULT_HOST = '127.0.0.1';
const MILLISECONDS_BETWEEN_LOOKS = 250;

/**
 * @param {string} sentence
 * @returns {never}
 */
function refuse(sentence) {
  process.stderr.write(`${sentence}\n${USAGE}\n`);
  process.exit(2);
}

/**
 * @returns {{ readonly port: number, readonly host: string }}
 */
function readArguments() {
  try {
    const { values } = parseArgs({
      options: {
        port: { type: 'string', default: DEFAULT_PORT },
        host: { type: 'string', default: DEFAULT_HOST },
      },
    });
    const port = Number(values.port);
    if (!Number.isInteger(port) || port < 0 || port > 65535) {
      refuse(`“${values.port}” is no port: a whole number from 0 to 65535.`);
    }
    return { port, host: values.host };
  } catch (error) {
    return refuse(error instanceof Error ? error.message : String(error));
  }
}

/**
 * @param {string} host
 * @param {number} port
 * @returns {string}
 */
function addressOf(host, port) {
  const everywhere = host === '0.0.0.0' || host === '::';
  const name = everywhere || host === DEFAULT_HOST ? 'localhost' : host;
  return `http://${isIP(name) === 6 ? `[${name}]` : name}:${port}/`;
}

/**
 * Ends with npm. A signal that ends npm reaches the shell between npm and us and goes no further, so
 * the server would stay behind and keep its port.
 *
 * @returns {void}
 */
function endWithParent() {
  if (process.env.npm_lifecycle_event === undefined) return;
  const parent = process.ppid;
  setInterval(() => {
    if (process.ppid !== parent) process.exit();
  }, MILLISECONDS_BETWEEN_LOOKS).unref();
}

const wanted = readArguments();
endWithParent();
prepare();
const { buildPage, builtFolder } = await import('./build.mjs');
await buildPage();
const { createStaticServer, listen } = await import('./static-server.mjs');
const port = await listen(createStaticServer(builtFolder), wanted);
process.stdout.write(`Dapple is at ${addressOf(wanted.host, port)}  (Ctrl+C ends it)\n`);
