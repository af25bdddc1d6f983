// Loaded before anything else, in the process and each of its threads: whatever would reach a network is written down and refused.
const { appendFileSync } = require('node:fs');
const dns = require('node:dns');
const net = require('node:net');

const refuse = (what) => () => {
  appendFileSync(process.env.NETWORK_LOG, `${what}\n`);
  throw new Error(`${what} is refused`);
};
net.Socket.prototype.connect = refuse('connect');
for (const name of ['lookup', 'resolve', 'resolve4', 'resolve6']) dns[name] = refuse(name);
globalThis.fetch = refuse('fetch');
appendFileSync(process.env.NETWORK_LOG, 'watched\n');
