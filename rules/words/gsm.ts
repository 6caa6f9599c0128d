/**
 * Letters of a text message [3GPP TS 23.038 6.2.1]: the default alphabet holds 160 of them in one message. Anything else
 * makes the whole message UCS-2, of which one holds 70; so what has a plain spelling is spelt plainly.
 */
const BASIC =
  '@£$¥èéùìòÇ\nØø\rÅåΔ_ΦΓΛΩΠΨΣΘΞÆæßÉ !"#¤%&\'()*+,-./0123456789:;<=>?¡ABCDEFGHIJKLMNOPQRSTUVWXYZÄÖÑÜ§¿abcdefghijklmnopqrstuvwxyzäöñüà';
/** Each counts as two. */
const EXTENDED = '\f^{}\\[~]|€';

const PLAIN: Readonly<Record<string, string>> = {
  '°': '',
  '–': '-',
  '—': '-',
  '“': '"',
  '”': '"',
  '‘': "'",
  '’': "'",
  '…': '...',
  '₂': '2',
  '³': '3',
  '²': '2',
  '·': '.',
  '×': 'x',
  '≥': '>=',
  '≤': '<=',
  '\u00a0': ' ',
  '\u202f': ' ',
};

export const isGsm = (text: string): boolean =>
  [...text].every((letter) => BASIC.includes(letter) || EXTENDED.includes(letter));

/** How much of the 160 a text takes. */
export const gsmLength = (text: string): number =>
  [...text].reduce((length, letter) => length + (EXTENDED.includes(letter) ? 2 : 1), 0);

/** As plain as it can be said: accents stay where the alphabet has them, and go where it has not. */
export const plainText = (text: string): string =>
  [...text]
    .map((letter) => {
      const plain = PLAIN[letter] ?? letter;
      if (isGsm(plain)) return plain;
      const bare = plain.normalize('NFKD').replaceAll(/\p{M}/gu, '');
      return isGsm(bare) ? bare : letter;
    })
    .join('');
