import { expect, test, vi } from 'vitest';
import { serve } from './serving.ts';

test('a checking sheet shows the day on which it is asked for, though nothing was written since the day before', async () => {
  vi.useFakeTimers({ toFake: ['Date'], now: new Date('2026-06-01T08:00:00Z') });
  try {
    const served = await serve();
    const dateOf = async () => {
      const { body } = await served.app.inject({ url: '/publications/letter-one/sheet' });
      return /<time datetime="([^"]*)"/u.exec(body)?.[1];
    };
    expect(await dateOf()).toBe('2026-06-01T08:00:00.000Z');
    vi.setSystemTime(new Date('2026-06-02T09:00:00Z'));
    expect(await dateOf()).toBe('2026-06-02T09:00:00.000Z');
    await served.close();
  } finally {
    vi.useRealTimers();
  }
});
