const MM_PER_IN = 25.4
const SAID = /\d+(?:\.\d+)?(?: (?:x|×|by|to|or) \d+(?:\.\d+)?)* mm\b/g

/** A sentence with its lengths in the reader's unit: millimetres as written, or thousandths of an inch. */
export const sayLengths = (text: string, unit: 'mm' | 'in'): string =>
  unit === 'mm'
    ? text
    : text.replaceAll(SAID, (said) =>
        said
          .replaceAll(/\d+(?:\.\d+)?/g, (number) => (Number(number) / MM_PER_IN).toFixed(3))
          .replace(/ mm$/, ' in'),
      )
