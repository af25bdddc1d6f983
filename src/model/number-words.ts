const ONES = [
  ...['zero', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten'],
  ...['eleven', 'twelve', 'thirteen', 'fourteen', 'fifteen', 'sixteen', 'seventeen', 'eighteen', 'nineteen'],
];
const TENS = ['twenty', 'thirty', 'forty', 'fifty', 'sixty', 'seventy', 'eighty', 'ninety'];

/** English number words from zero to ninety-nine, compound ones with a hyphen. */
export const NUMBER_WORDS: ReadonlyMap<string, number> = new Map([
  ...ONES.map((word, number) => [word, number] as const),
  ...TENS.flatMap((tens, i) =>
    Array.from({ length: 10 }, (_, one): readonly [string, number] => {
      const number = (i + 2) * 10 + one;
      return [one === 0 ? tens : `${tens}-${ONES[one]}`, number];
    }),
  ),
]);
