import { type ByLanguage, inLanguage, type Language } from './language.js';

const WORDS: ByLanguage<{
  readonly taken: string;
  readonly other: string;
  readonly codes: Readonly<Record<string, string>>;
}> = {
  en: {
    taken: 'It was taken. That is not the same as heard: did it come?',
    other: 'It did not go',
    codes: {
      'not-set-up': 'This way is not set up yet: fill it in here first',
      'no-subscription': 'No phone is subscribed: open Nightwater on the phone and press “Wake me on this phone”',
      'subscription-gone': 'The phone’s subscription has ended: subscribe it again, on that phone',
      'too-large': 'The push service found the message too large',
      'rate-limited': 'The other end asks to be called less often: wait, then try again',
      'identity-refused':
        'The push service refuses who we are: check the clock of this machine, then make new push keys',
      malformed: 'The other end did not understand the message: look at the address',
      refused: 'The other end refused it for good: check name, password and address',
      'server-trouble': 'The other end is in trouble, and may take it later',
      'no-connection': 'Nothing answers there: check the address and the internet line',
      'timed-out': 'No answer in time: check the address and the internet line',
      'not-encrypted':
        'The server offers no encryption that can be trusted: nothing was sent. Check its name and the kind of encryption',
      redirected: 'The address sends us elsewhere, which is not followed: write the final address',
      'modem-absent': 'No modem can be opened there: check the cable, the name of the port, and the right to open it',
      'modem-no-sim': 'The modem’s card is not ready: is it in, and does it ask for a PIN? Write the PIN here',
      'modem-pin-refused':
        'The card refused the PIN. It was not tried again, because a card locks itself after three: correct it here',
      'modem-no-network': 'The modem has no network: move its antenna, check the card’s contract',
      'modem-busy': 'The line was busy',
      'modem-error': 'The modem did not understand, or answered with an error: check the speed of the line',
      'address-unusable':
        'The address cannot be used: a telephone number needs its country, as in +1 555 010 0123; a web address https',
      'lamp-away': 'The broker cannot be reached, so no lamp can hear of it',
    },
  },
};

type Spoken = { readonly language?: Language };

/** What became of a try, in a sentence that says how to mend it. Undefined: it was taken. */
export const deliveryWords = (code: string | undefined, reader: Spoken = {}): string => {
  const { taken, other, codes } = inLanguage(WORDS, reader);
  return code === undefined ? taken : (codes[code] ?? other);
};
