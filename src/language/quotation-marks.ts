/** Tells from quotation marks, and what follows them, how far a text is somebody else's words. */

/** A name after a dash, or a place in brackets, as people write under a quotation. */
const SIGNED_BY_DASH =
  /(?:^|[\s.!?,;”’"'…])\s*(?:—|–|--|-(?=\s))\s*(?<name>\p{Lu}[^?!\n”"]{1,110}?)\.?\s*$/u;
const SIGNED_IN_BRACKETS =
  /[\s”’"']\((?<name>(?:\p{Lu}[^()?!]{1,80}|(?:pp?|pg|ch|chap|chapter|line|act|bk|vol)\b\.?[^()]{0,30}))\)\.?\s*$/u;
/** After closing marks, a title or a place needs no dash. */
const SIGNED_PLAINLY =
  /[”’"'][,.]?\s+(?<name>(?:\p{Lu}[^“‘"?!]{1,80}|(?:pp?|ch|chapter)\b\.? ?[\dxvil]+[^“‘"]{0,20}))\s*$/u;
const OPENING = /^[“‘"'„«]/u;
const CLOSING = /[”’"'“»][.,;]?$/u;

interface Signed {
  /** The text without its signature is one quotation from its first mark to its last, none closed in between. */
  whole: boolean;
  /** Of the text without its signature, the part between quotation marks where it opens and closes with one; else 0. */
  share: number;
  /** What follows the quotation: a name, a title, a place in a book. */
  signed?: string;
  /** Offset of the end of the words quoted. */
  end: number;
}

/** Characters; what is longer is not quoted as one passage, and is not looked at. */
const LONGEST = 5000;

/** Takes a text apart into a quotation and its signature. `plain` holds no marks of CommonMark. */
export function signedQuotation(plain: string): Signed {
  const text = plain.trim();
  if (text.length > LONGEST) return { whole: false, share: 0, end: text.length };
  const found = signatureOf(text);
  const body = (found ? text.slice(0, found.from) : text).trim();
  const answer: Signed = { whole: false, share: 0, end: body.length };
  if (found) answer.signed = found.name;
  if (!OPENING.test(body) || !CLOSING.test(body)) return answer;
  answer.whole = isWhole(body);
  answer.share = enclosedShare(body);
  return answer;
}

function signatureOf(text: string): { from: number; name: string } | undefined {
  for (const pattern of [SIGNED_BY_DASH, SIGNED_IN_BRACKETS, SIGNED_PLAINLY]) {
    const match = pattern.exec(text);
    const name = match?.groups?.['name'];
    if (!match || !name) continue;
    const before = text.slice(0, match.index + 1).trim();
    if (!looksLikeSource(name, pattern === SIGNED_BY_DASH)) {
      if (pattern === SIGNED_BY_DASH && isRemarkOn(before, name)) {
        return { from: match.index + 1, name: name.slice(0, name.indexOf(',')).trim() };
      }
      continue;
    }
    // A dash inside running prose is no signature: the words before it must be finished.
    if (pattern === SIGNED_BY_DASH && !/[.!?…,;:”’"'\p{L}]$/u.test(before)) continue;
    if (pattern !== SIGNED_BY_DASH && !OPENING.test(text)) continue;
    if (pattern !== SIGNED_BY_DASH && !CLOSING.test(before.replace(/\s*\($/u, ''))) continue;
    return { from: match.index + (/^[.!?,;”’"'…]/u.test(match[0]) ? 1 : 0), name: name.trim() };
  }
  return undefined;
}

/** "Anne, after the cake": a name and a few words, after a dash behind marks that close. */
function isRemarkOn(before: string, name: string): boolean {
  if (!OPENING.test(before) || !CLOSING.test(before)) return false;
  const [who = '', ...rest] = name.split(',');
  const said = rest.join(',').trim();
  return said !== '' && said.split(/\s+/u).length <= 8 && looksLikeSource(who.trim(), true);
}

const NAME_WORD =
  /^(?:\p{Lu}[\p{L}’'.-]*|[A-Z]\.|of|the|and|in|on|to|a|an|de|la|von|van|der|for|from|with|at|by|into|upon|his|her|my|or|&|pp?\.?|pg\.?|ch\.?|chap\.?|chapter|act|scene|line|lines|book|bk\.?|vol\.?|part|stave|no\.?|letter|[\divxlc]+[-–.:,]?[\divxlc]*|\d{4})[,;:.]*$/iu;

/** Every word is a name, a small word of titles, or a place; with a dash the first must be a capital, and few small ones. */
function looksLikeSource(name: string, strict: boolean): boolean {
  const words = name.split(/\s+/u);
  if (words.length > 16 || !words.every((word) => NAME_WORD.test(word))) return false;
  if (!strict) return true;
  const capitals = words.filter((word) => /^[“‘"'(]?\p{Lu}|^\d|^pp?\.|^ch/u.test(word)).length;
  return capitals / words.length >= 0.5 && /^\p{Lu}/u.test(name);
}

function isWhole(body: string): boolean {
  const inner = body.slice(1).replace(CLOSING, '');
  const [open] = body;
  if (open === '"') return !inner.includes('"');
  if (open === '“' || open === '„') return !/[”“]/u.test(inner);
  if (open === '«') return !inner.includes('»');
  // Single marks are apostrophes too: one that closes stands before a space or a stop and after a letter or a stop.
  return !/(?<=[\p{L}.,!?])[’'](?=[\s,.;](?!\p{Ll}*s?\b['’]))/u.test(
    inner.replace(/(?<=s)[’'](?=\s)/gu, ''),
  );
}

/** The part of a text, 0 to 1, that stands between quotation marks. */
export function enclosedShare(text: string): number {
  if (text.length === 0 || text.length > LONGEST) return 0;
  let inside = 0;
  for (const pattern of [/“[^”]*”/gu, /"[^"]*"/gu, /«[^»]*»/gu]) {
    for (const match of text.matchAll(pattern)) inside += match[0].length;
  }
  if (inside === 0) {
    for (const match of text.matchAll(/(?<![\p{L}])[‘'](?:[^’']|[’'](?=\p{L}))*[’'](?!\p{L})/gu)) {
      inside += match[0].length;
    }
  }
  return Math.min(inside / text.length, 1);
}
