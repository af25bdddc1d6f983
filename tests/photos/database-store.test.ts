import { Client } from 'pg';
import { expect, test } from 'vitest';
import { DatabasePhotos } from '../../src/photos/database-store.ts';
import { sharedSchema } from '../postgres/shared.ts';
import { sha256Of } from './pictures.ts';
import { listed, photoStoreContract } from './store-contract.ts';

async function queried(url: string, statement: string, values: readonly unknown[] = []): Promise<void> {
  const client = new Client(url);
  await client.connect();
  await client.query(statement, [...values]);
  await client.end();
}

photoStoreContract('in a database', async () => {
  const schema = await sharedSchema();
  return {
    open: () => new DatabasePhotos(schema.url),
    damage: (sha256) =>
      queried(
        schema.url,
        'UPDATE caseback_photo_parts SET content = set_byte(content, 7, 255 - get_byte(content, 7)) WHERE sha256 = $1 AND part = 1',
        [sha256],
      ),
    remove: () => schema.drop(),
  };
});

test('a photo that lost a part is altered, and one whose server is away says so', async () => {
  const schema = await sharedSchema();
  const store = new DatabasePhotos(schema.url);
  const content = Buffer.alloc(3_000_000, 'photo');
  await store.put(sha256Of(content), content);
  await queried(schema.url, 'DELETE FROM caseback_photo_parts WHERE part = 1');
  expect((await store.get(sha256Of(content)))?.length).toBe(3_000_000 - (1 << 20));
  await store.close();
  await schema.drop();

  const away = new DatabasePhotos('postgres://nobody@127.0.0.1:1/nowhere');
  await expect(away.put(sha256Of(content), content)).rejects.toMatchObject({ code: 'UNAVAILABLE' });
  await expect(listed(away)).rejects.toMatchObject({ code: 'UNAVAILABLE' });
  await away.close();
});

test('tables of a newer program are left alone', async () => {
  const schema = await sharedSchema();
  const first = new DatabasePhotos(schema.url);
  await first.put(sha256Of(Buffer.from('one')), Buffer.from('one'));
  await first.close();
  await queried(schema.url, 'INSERT INTO caseback_photo_migrations (version) VALUES (99)');
  const store = new DatabasePhotos(schema.url);
  await expect(store.get('0'.repeat(64))).rejects.toMatchObject({
    code: 'CONFLICT',
    message: expect.stringContaining('use a newer program'),
  });
  await store.close();
  await schema.drop();
});
