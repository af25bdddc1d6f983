import { describe, expect, test } from 'vitest';
import { didYouMean, nearNames } from '../../src/text/near.ts';

describe('near names', () => {
  test('an edit is a letter more, less, other, or two neighbours swapped', () => {
    const known = ['Sensor', 'Radio', 'Board'];
    expect(nearNames('Senor', known)).toEqual(['Sensor']);
    expect(nearNames('Sensorr', known)).toEqual(['Sensor']);
    expect(nearNames('Sensar', known)).toEqual(['Sensor']);
    expect(nearNames('Snesor', known)).toEqual(['Sensor']);
  });

  test('a swap is one edit and not two, so short words with swapped letters are found', () => {
    expect(nearNames('ofr', ['for'])).toEqual(['for']);
  });

  test('case is ignored, the nearest come first, and at most three', () => {
    expect(nearNames('SENSOR', ['sensor'])).toEqual(['sensor']);
    expect(nearNames('cart', ['card', 'care', 'cart2', 'carp', 'cat'])).toHaveLength(3);
    expect(nearNames('abcdef', ['abcxyf', 'abcdex'])).toEqual(['abcdex', 'abcxyf']);
  });

  test('nothing far off is offered, and nothing for a pasted wall of text', () => {
    expect(nearNames('Sensor', ['Battery'])).toEqual([]);
    expect(nearNames('x'.repeat(10_000), ['x'.repeat(9_999)])).toEqual([]);
  });

  test('are offered as a question', () => {
    expect(didYouMean('Senor', ['Sensor'])).toBe('did you mean "Sensor"?');
    expect(didYouMean('cat', ['car', 'bat'])).toBe('did you mean "bat" or "car"?');
    expect(didYouMean('zzz', ['car'])).toBeUndefined();
  });
});
