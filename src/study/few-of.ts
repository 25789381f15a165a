/** The first of many things in words, and how many more there are: “a, b and 3 more”. */
export const fewOf = (words: readonly string[], most: number, more = 'more', between = ', '): string =>
  `${words.slice(0, most).join(between)}${words.length > most ? ` and ${words.length - most} ${more}` : ''}`;
