import { afterAll, beforeAll, expect, test } from 'vitest';
import { deskBundle } from '../../src/desk/bundle.ts';
import { DOSSIERS, HIDDEN } from '../service/invented.ts';
import { archiveOf, type Served, serve } from '../service/serving.ts';

// The pages as the service writes them, before any script has run.

let served: Served;
beforeAll(async () => {
  served = await serve({ desk: await deskBundle() });
});
afterAll(() => served.close());

const pageAt = async (url: string, on = served) => {
  const response = await on.app.inject({ url, headers: { accept: 'text/html' } });
  const { statusCode, headers, body } = response;
  const told = /<script type="application\/json" id="told">([^<]*)<\/script>/u.exec(body)?.[1] ?? '{}';
  return {
    statusCode,
    headers,
    body,
    main: /<main.*<\/main>/su.exec(body)?.[0] ?? '',
    told: JSON.parse(told),
  };
};

test('devices are there to read, each with a way to its own page and a drawing', async () => {
  const { statusCode, main } = await pageAt('/devices');
  expect(statusCode).toBe(200);
  const { devices } = await served.ask('{ devices { nodes { id name boards { id } } } }');
  expect(devices.nodes.length).toBeGreaterThan(2);
  for (const { id, name, boards } of devices.nodes) {
    expect(main).toContain(`href="/devices/${id}"`);
    expect(main).toContain(name);
    for (const { id: board } of boards.slice(0, 1)) {
      expect(main).toContain(`/drawings/board/${board}.svg`);
      const drawing = await served.app.inject(`/drawings/board/${board}.svg?plain=true&width=80`);
      expect([200, 400]).toContain(drawing.statusCode);
    }
  }
});

test('conditions in the address narrow the list down as the API does, without a script', async () => {
  const { devices } = await served.ask(
    `{ devices(filter: { makers: ["tarn"] }) { totalCount nodes { id } } }`,
  );
  const { main } = await pageAt('/devices?maker=tarn');
  expect([...main.matchAll(/href="\/devices\/([^"?]+)"/gu)].map(([, id]) => id).sort()).toEqual(
    devices.nodes.map(({ id }: { id: string }) => id).sort(),
  );
  const wrong = await pageAt('/devices?has=NoSuchThing');
  expect(wrong.main).toContain('NoSuchThing');
  expect(wrong.main).toContain('role="alert"');
});

test('a device has its components in the order of the API, with what was seen apart from what was concluded', async () => {
  const asked = await served.ask(
    `{ device(id: "tarn-sennit-2") { name components { nodes { designator marking } } } }`,
  );
  const { statusCode, main } = await pageAt('/devices/tarn-sennit-2');
  expect(statusCode).toBe(200);
  expect(main).toContain(`>${asked.device.name}</h1>`);
  const rows = [...main.matchAll(/<tr id="row-[^"]*".*?<\/tr>/gsu)].map(([row]) => row);
  expect(rows).toHaveLength(asked.device.components.nodes.length);
  for (const [i, { designator, marking }] of asked.device.components.nodes.entries()) {
    expect(rows[i]).toContain(`>${designator}</button>`);
    if (marking) expect(/<td class="seen">(.*?)<\/td>/su.exec(rows[i])?.[1]).toContain('<code>');
  }
});

test('a device that is hidden from readers is as absent as one that never was', async () => {
  const never = await pageAt('/devices/never-was');
  expect(never.statusCode).toBe(404);
  expect(never.main).toContain('No such device');
  const list = await pageAt('/devices');
  for (const id of HIDDEN.devices) {
    expect(served.archive.state('desk').device(id)).toBeDefined();
    const { statusCode, body } = await pageAt(`/devices/${id}`);
    expect([statusCode, body]).toEqual([404, never.body]);
    expect(list.body).not.toContain(id);
  }
});

test('no page tells readers of anything that is hidden from them', async () => {
  const text = encodeURIComponent('MATCH (x:Component) RETURN x');
  const [device] = HIDDEN.devices;
  for (const path of [
    '/devices',
    '/patterns',
    '/publications',
    `/publications/${HIDDEN.publications[0]}`,
    `/find?text=${text}&near=true`,
    '/trends?measure=has-kind&kind=Sensor&by=MAKER',
    `/compare?device=tarn-sennit-2&device=${device}&search=${HIDDEN.word}`,
    `/devices/${device}/record`,
    `/devices/${device}/decisions`,
    `/devices/tarn-sennit-2?picked=${HIDDEN.inside[0]}`,
  ]) {
    const { body } = await pageAt(path);
    // What the address itself says may stand on the page.
    const said = body.replaceAll(HIDDEN.word, path.includes(HIDDEN.word) ? '' : HIDDEN.word);
    expect(said, path).not.toContain(HIDDEN.word);
    for (const id of [...HIDDEN.devices, ...HIDDEN.makers, ...HIDDEN.publications].filter(
      (one) => !path.includes(one),
    ))
      expect(new RegExp(`["/>]${id}["/<]`, 'u').test(body), `${path}: ${id}`).toBe(false);
  }
});

test('what is recorded is text on the page, whatever characters it has', async () => {
  const [first] = DOSSIERS;
  const name = '</script><script>alert(1)</script><img src=x onerror=alert(2)>\u2028"\'';
  const archive = await archiveOf([
    { caseback: 'catalogue/1', makers: [{ id: 'sly', name, makes: ['devices'], invented: true }] },
    {
      caseback: 'dossier/1',
      device: {
        id: 'sly-one',
        name: `Sly ${name}`,
        maker: 'sly',
        released: '2024',
        bodySite: 'wrist',
        invented: true,
      },
      specimen: first.specimen,
      teardown: first.teardown,
    },
  ]);
  const sly = await serve({ desk: await deskBundle() }, archive);
  try {
    for (const path of ['/devices', '/devices/sly-one']) {
      const { statusCode, body, told } = await pageAt(path, sly);
      expect(statusCode).toBe(200);
      expect(body.match(/<script/gu)).toHaveLength(2);
      expect(body).not.toContain('<img src=x');
      expect(JSON.stringify(told)).toContain('onerror');
    }
  } finally {
    await sly.close();
  }
});

test('every answer of the desk has the strict policy, and files of it may be kept for ever', async () => {
  const { headers, body } = await pageAt('/devices');
  expect(headers['content-security-policy']).toContain("require-trusted-types-for 'script'");
  expect(headers['content-security-policy']).not.toContain('unsafe');
  expect(headers.vary).toContain('cookie');
  const files = [...body.matchAll(/(?:src|href)="(\/desk\/[^"]+)"/gu)].map(([, file]) => file);
  expect(files.length).toBeGreaterThan(2);
  for (const file of files) {
    const response = await served.app.inject(file);
    expect([response.statusCode, response.headers['cache-control']]).toEqual([
      200,
      'public, max-age=31536000, immutable',
    ]);
  }
  expect((await served.app.inject('/desk/assets/other.js')).statusCode).toBe(404);
});
