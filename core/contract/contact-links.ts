// Which addresses outside the app a page may lead to: a phone number to call and an address to write to, no others.
// The screens make their links here and the window lets out only what passes here.

/** RFC 3966: digits, an optional plus before them and an optional extension behind. E.164 allows 15 digits; dial prefixes come on top. */
const PHONE_LINK = /^tel:\+?\d{3,20}(;ext=\d{1,8})?$/;
// RFC 6068 without its query, so that a link fills in an address and nothing else. Quotation marks, blanks and encoded
// ASCII stay out: the address ends up on a command line of the mail program. Beyond ASCII it is encoded UTF-8.
const MAIL_LINK =
  /^mailto:(?:[A-Za-z0-9.!$*+/=_~-]|%[89A-F][0-9A-F]){1,192}@(?:[A-Za-z0-9.-]|%[89A-F][0-9A-F]){1,255}$/;
const LONGEST = 460;

/** May the system's phone or mail program be opened with this address? */
export function isContactLink(address: unknown): address is string {
  return (
    typeof address === 'string' &&
    address.length <= LONGEST &&
    // JavaScript's $ takes no line end by itself, but whoever adds the flag "m" must not open a door.
    !/[\u0000-\u0020\u007f-\u009f\u2028\u2029]/.test(address) &&
    (PHONE_LINK.test(address) || MAIL_LINK.test(address))
  );
}

/** "(555) 010-0142 ext. 7" → "tel:5550100142;ext=7"; null for what is no number to call. */
export function phoneLink(phone: string): string | null {
  const [, main = phone, extension] = /^(.*?)[\s,;]*(?:ext(?:ension)?|x)[\s.:]*(\d{1,8})\s*$/i.exec(phone) ?? [];
  const number = `${/^\s*\+/.test(main) ? '+' : ''}${main.replaceAll(/\D/g, '')}`;
  const link = `tel:${number}${extension === undefined ? '' : `;ext=${extension}`}`;
  return isContactLink(link) ? link : null;
}

/** "office@example.com" → "mailto:office@example.com"; null for what is no single address. */
export function mailLink(email: string): string | null {
  const text = email.trim();
  // encodeURI leaves what an address may hold and writes the rest as UTF-8; a lone surrogate has no UTF-8.
  const link = text.isWellFormed() ? `mailto:${encodeURI(text)}` : '';
  return isContactLink(link) ? link : null;
}
