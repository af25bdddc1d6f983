import { describe, expect, test } from 'vitest';
import { addressRules, unreachable, webhookAddress } from '../../../src/service/webhooks/addresses.ts';

// Blocks of the IANA IPv4 and IPv6 Special-Purpose Address Registries (RFC 6890), each with the document that defines it, and the first and
// last address of each block. Written down from the registries' documents, apart from the library that the code asks.

const NONE = addressRules([], []);

const REFUSED: readonly (readonly [block: string, document: string, ...addresses: string[]])[] = [
  ['0.0.0.0/8', 'RFC 791, section 3.2', '0.0.0.0', '0.0.0.1', '0.255.255.255'],
  ['10.0.0.0/8', 'RFC 1918', '10.0.0.0', '10.255.255.255'],
  ['100.64.0.0/10', 'RFC 6598', '100.64.0.0', '100.127.255.255'],
  ['127.0.0.0/8', 'RFC 1122, section 3.2.1.3', '127.0.0.1', '127.255.255.255'],
  ['169.254.0.0/16', 'RFC 3927', '169.254.0.1', '169.254.169.254', '169.254.255.255'],
  ['172.16.0.0/12', 'RFC 1918', '172.16.0.0', '172.31.255.255'],
  ['192.0.0.0/24', 'RFC 6890', '192.0.0.0', '192.0.0.255'],
  ['192.0.2.0/24', 'RFC 5737', '192.0.2.1'],
  ['192.88.99.0/24', 'RFC 7526', '192.88.99.1'],
  ['192.168.0.0/16', 'RFC 1918', '192.168.0.0', '192.168.255.255'],
  ['198.18.0.0/15', 'RFC 2544', '198.18.0.0', '198.19.255.255'],
  ['198.51.100.0/24', 'RFC 5737', '198.51.100.1'],
  ['203.0.113.0/24', 'RFC 5737', '203.0.113.255'],
  ['224.0.0.0/4', 'RFC 5771', '224.0.0.1', '239.255.255.255'],
  ['240.0.0.0/4', 'RFC 1112, section 4', '240.0.0.1', '255.255.255.254'],
  ['255.255.255.255/32', 'RFC 919', '255.255.255.255'],
  ['::/128', 'RFC 4291, section 2.5.2', '::'],
  ['::1/128', 'RFC 4291, section 2.5.3', '::1'],
  ['::/96', 'RFC 4291, section 2.5.5.1', '::127.0.0.1', '::10.0.0.1', '::8.8.8.8'],
  ['::ffff:0:0/96', 'RFC 4291, section 2.5.5.2', '::ffff:10.0.0.1', '::ffff:127.0.0.1', '::ffff:8.8.8.8'],
  ['64:ff9b::/96', 'RFC 6052, section 2.1', '64:ff9b::a00:1', '64:ff9b::7f00:1'],
  ['64:ff9b:1::/48', 'RFC 8215', '64:ff9b:1::1'],
  ['100::/64', 'RFC 6666', '100::1'],
  ['2001::/32', 'RFC 4380', '2001:0:4136:e378::1'],
  ['2001:2::/48', 'RFC 5180', '2001:2::1'],
  ['2001:db8::/32', 'RFC 3849', '2001:db8::1'],
  ['2002::/16', 'RFC 3056', '2002:a00:1::1', '2002:7f00:1::1'],
  ['3fff::/20', 'RFC 9637', '3fff::1'],
  ['5f00::/16', 'RFC 9602', '5f00::1'],
  ['fc00::/7', 'RFC 4193', 'fc00::1', 'fdff:ffff::1'],
  ['fe80::/10', 'RFC 4291, section 2.5.6', 'fe80::1', 'febf::1'],
  ['fec0::/10', 'RFC 3879', 'fec0::1'],
  ['ff00::/8', 'RFC 4291, section 2.7', 'ff02::1', 'ff0e::1'],
  ['outside 2000::/3', 'RFC 4291, section 2.4', '4000::1', '8000::1', 'e000::1'],
];

describe.each(REFUSED)('%s (%s)', (_block, _document, ...addresses) => {
  test.each(addresses)('%s is refused, as a host in a URL too', (address) => {
    expect(unreachable(address, NONE)).toMatch(/RFC \d+/u);
    const host = address.includes(':') ? `[${address}]` : address;
    expect(() => webhookAddress(`https://${host}/hook`, NONE)).toThrow(/The address is .*RFC/u);
  });
});

test('addresses right beside the blocks, and other public ones, are not refused', () => {
  for (const address of [
    '1.0.0.0',
    '9.255.255.255',
    '11.0.0.0',
    '100.63.255.255',
    '100.128.0.0',
    '126.255.255.255',
    '128.0.0.1',
    '169.253.255.255',
    '169.255.0.0',
    '172.15.255.255',
    '172.32.0.0',
    '192.167.255.255',
    '192.169.0.0',
    '198.17.255.255',
    '198.20.0.0',
    '223.255.255.255',
    '2a00::1',
    '2606:4700::1',
    '2003::1',
  ])
    expect(unreachable(address, NONE), address).toBeUndefined();
});

test('other spellings of an address are that address (WHATWG URL, "IPv4 parser")', () => {
  for (const host of [
    '127.1',
    '0x7f.0.0.1',
    '2130706433',
    '0177.0.0.1',
    '[0:0:0:0:0:0:0:1]',
    '[::ffff:7f00:1]',
    '１２７.0.0.1',
  ])
    expect(() => webhookAddress(`https://${host}/`, NONE), host).toThrow(/The address is /u);
});

test('an operator allows ranges and single addresses, and nothing beside them', () => {
  const rules = addressRules([], ['10.20.0.0/16', '192.168.1.7', 'fd00:20::/32']);
  for (const address of ['10.20.0.1', '10.20.255.255', '192.168.1.7', 'fd00:20::1'])
    expect(unreachable(address, rules), address).toBeUndefined();
  for (const address of ['10.21.0.1', '192.168.1.8', 'fd00:21::1', '::ffff:10.20.0.1', '64:ff9b::a14:1'])
    expect(unreachable(address, rules), address).toBeDefined();
  for (const wrong of ['10.20.0.0/33', 'desk.lan', '10.20', '10.0.0.0-10.0.0.9'])
    expect(() => addressRules([], [wrong]), wrong).toThrow(/not an address or a range/u);
});

test('https, or http for the origins that an operator lists', () => {
  const rules = addressRules(['http://desk.lan:8080', 'http://plain.example'], []);
  expect(webhookAddress('https://desk.example.org/hooks?a=1', rules).href).toBe(
    'https://desk.example.org/hooks?a=1',
  );
  expect(webhookAddress('http://desk.lan:8080/x', rules).href).toBe('http://desk.lan:8080/x');
  expect(webhookAddress('http://plain.example:80/', rules).href).toBe('http://plain.example/');
  const refused: readonly (readonly [string, RegExp])[] = [
    ['http://desk.lan/x', /must begin with https/u],
    ['http://desk.lan:8081/x', /must begin with https/u],
    ['http://desk.example.org/', /must begin with https/u],
    ['ftp://desk.example.org/', /must begin with https/u],
    ['file:///etc/hosts', /must begin with https/u],
    ['desk.example.org/hooks', /not valid/u],
    ['https://', /not valid/u],
    ['https://a:b@desk.example.org/', /name or password/u],
    ['https://a@desk.example.org/', /name or password/u],
    ['https://desk.example.org/#here', /fragment/u],
    [`https://desk.example.org/${'a'.repeat(2_000)}`, /characters/u],
  ];
  for (const [address, said] of refused) expect(() => webhookAddress(address, rules), address).toThrow(said);
  for (const wrong of ['https://desk.lan', 'desk.lan', 'http://desk.lan/path', 'http://u@desk.lan'])
    expect(() => addressRules([wrong], []), wrong).toThrow(/origin with http/u);
});
