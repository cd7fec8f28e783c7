import type { EntryKind } from '../journal/records';
import type { Certainty } from './certainty';
import { plainText } from './markdown';
import { enclosedShare, signedQuotation } from './quotation-marks';

/** How much a text speaks for each kind, in points; what speaks against takes points off. */
type KindPoints = Record<EntryKind, number>;

/** Points by which the best kind must lead the next; set on pieces written for that, measured on others. */
const LEAD_FOR_SURE = 3.5;
const LEAD_FOR_LIKELY = 2;
/** A note is what most pieces are, so less must speak for it; but something must: a piece without any sign may be anything. */
const LEAD_FOR_LIKELY_NOTE = 1.6;

const LABELS: readonly [EntryKind, RegExp][] = [
  [
    'question',
    /^(?:d\.? ?q\.?|q|(?:discussion |follow-?up )?questions?(?: \d+)?|for discussion|discuss|ask|follow-?up)\s*[.:)–—-]\s*\S/iu,
  ],
  ['question', /^d\.\s?q\.\s|^q ?\d{1,2}\b[.:)]?\s/iu],
  ['quote', /^(?:quot(?:e|ation)|passage|extract|epigraph)\s*[:–—]\s*\S/iu],
  [
    'lesson',
    /^(?:lesson(?: idea| plan)?|object lesson|activity|hands-on|game|warm-?up|demonstration|experiment|starter|craft)\s*(?:[:–—]|\s-\s)\s*\S/iu,
  ],
  ['lesson', /^(?:you(?: will|’ll|'ll)? need|materials|have ready|equipment)\s*[:–—]/iu],
  [
    'assignment',
    /^(?:assignment|homework|h\.?w\.?|set work|copywork|narration|essay|project|to hand in|due)(?: (?:for|due|by) [^:.?!]{1,30})?\s*(?:[:–—]|\s-\s)\s*\S/iu,
  ],
  [
    'assignment',
    /^(?:reading|set reading)(?: for [^:]{1,20})?\s*[:–—]\s*\S|^next (?:week|time)(?:’s|'s) (?:reading|work)\b/iu,
  ],
  [
    'assignment',
    /^for (?:next (?:week|time|lesson|term)|(?:mon|tues|wednes|thurs|fri|satur|sun)day|half-?term|the holidays)\s*[,:–—-]\s*\S/iu,
  ],
  [
    'note',
    /^(?:n\.?b\.?|notes?(?: to self)?|remark|margin comment|thought|idea for me|see also|theme of)\b\s*[:.–—]?\s*\S/iu,
  ],
];

const ENDS_ASKING = /\?\s*[)"”’'\]]*\s*(?:\((?:pp?|ch|chapter|line|act)\b[^)]{0,20}\))?\s*$/iu;
const ASKING_WORD =
  /^(?:[a-z]+ )?(?:who|whom|whose|what|which|when|where|why|how|is|are|was|were|do|does|did|can|could|should|would|will|has|have|had|may|might|must|if|suppose|in what)\b/iu;
const ASKS_A_READER =
  /\b(?:do you (?:think|agree|know)|would you|could you|have you|should (?:he|she|they|we|you|one)|is (?:it|that|this|he|she|there)|what if)\b/iu;
const TALKS_IT_OVER = /^(?:discuss|compare|consider|debate|defend|decide whether|argue)\b/iu;
const SECOND_ORDER =
  /\?\s+(?:give|say|find|point|explain|defend|use|quote|show|choose|why|which|how|who|where|what|and)\b[^?]*[.?]?$/iu;

const FIRST_PERSON =
  /(?:^|[\s(“‘"'])(?:I|I’d|I'd|I’m|I'm|I’ve|I've|my|me|mine|myself)(?=[\s,.;:?!)’'])/u;
const OUR = /\b(?:we|our|us|ours)\b/iu;
const OF_READING =
  /\b(?:chapter|ch\.|page|p\.|re-?read|finished|began|aloud|translation|edition|ending|sentence|the author|plot|stars?)\b/iu;
const HOUSEHOLD =
  /\b(?:library card|dentist|buy|eggs|milk|bread|candles|stamps|biscuits|ring|phone|pay|renew|return the|£|\$|hall key|shopping|order \d)\b/iu;
const FOR_MYSELF =
  /^(?:remember|don’t forget|don't forget|ring|phone|buy|order|return|renew|see also|compare with|cf\.?|look up|keep (?:it|this)|make (?:more|less) of|put down|check|good for|note that|write to|give back|return|borrow|must (?:ask|read|look|find|try)|check (?:which|if|whether|the))\b/iu;
/** Somebody with a name, which a capital tells: "ask them to" is no note to oneself. */
const ASK_SOMEBODY = /^[Aa]sk \p{Lu}\p{Ll}+ (?:about|for|to)\b/u;
const TO_SOMEBODY =
  /^(?:tell|show|ask|give|lend|send|write|ring|remind|thank|bring) (?!Jane|God)(?:Mrs? |Dr )?\p{Lu}\p{Ll}+(?:’s|'s)?\b/u;
const NO_ORDER =
  /^(?:give and take|let (?:the record|me|us not)|find the \S+ edition|show, not|read aloud by|set in|cut (?:off|from)|put (?:off|out)|found|made|left)\b/iu;
const PAST_EVENT =
  /\b(?:laughed|talked|asked for|liked|loved|hated|got|were|was|had|went|came|said|wanted|cried|finished|began)\b/iu;
const DIARY =
  /\b(?:last night|this morning|today|yesterday|this evening|tonight|again this year|for the (?:second|third) time)\b/iu;

const ORDER_WORDS =
  'act|add|agree|answer|argue|arrange|ask|bake|balance|blindfold|blow|boil|bounce|brainstorm|bring|build|bury|calculate|' +
  'carry|carve|cast|catch|chalk|chart|choose|circle|clap|clear|collect|colour|compare|compose|cook|copy|count|cover|' +
  'crawl|cut|dance|debate|decide|defend|demonstrate|describe|design|devise|dig|dip|divide|drape|draw|dress|drip|drop|' +
  'dye|estimate|explain|fill|find|finish|float|fold|freeze|give|go|graph|grow|guess|hammer|hand|hang|have|' +
  'hide|hold|hop|hum|hunt|illustrate|imagine|interview|invent|jump|keep|knit|label|lay|learn|leave|let|light|' +
  'line|list|listen|log|look|make|map|mark|match|measure|melt|memorise|memorize|mix|model|nail|name|open|' +
  'pack|paint|paper|pass|peel|perform|pick|pin|place|plan|plant|play|plot|polish|pop|pour|practise|predict|' +
  'prepare|present|press|pretend|print|prove|push|put|race|rank|read|recite|record|rehearse|remove|report|research|retell|' +
  'rewrite|ring|roll|rub|saw|say|scatter|scrape|scrub|search|set|sew|shake|shape|share|shine|show|shut|' +
  'sing|sit|sketch|skip|slice|smell|snip|soak|sort|sow|spend|spin|splice|split|spread|sprinkle|squeeze|stage|' +
  'stain|stamp|stand|start|stick|stir|stitch|stop|stretch|string|strike|suck|summarise|swap|swing|take|talk|tap|' +
  'taste|tear|tell|test|thread|throw|tie|time|toast|trace|trade|translate|trim|turn|twist|underline|unwrap|use|' +
  'visit|vote|walk|wash|watch|wave|wear|weave|weigh|whisper|wind|wipe|work|wrap|write';
const ORDER = new RegExp(
  `^(?:then |now |first,? |next,? |and |\\d+[.)] )?(?:${ORDER_WORDS})\\b(?!’s|'s)`,
  'iu',
);
/** An order to those who are taught, by whoever leads: "Ask them to draw the bank", "Have everyone write one line". */
const HAVE_THEM = new RegExp(
  `^(?:ask|tell|have|get|let|help) (?:them|everyone|everybody|each (?:child|pupil|pair|group|one)|one (?:child|of them)) (?:all )?(?:to )?(?:${ORDER_WORDS})\\b`,
  'iu',
);
/** Words spoken, and who spoke them: a passage of a story. */
const SPEECH =
  /^[“‘"'][^”"]{2,200}[,!?.][”’"'] (?:(?:\p{L}+ ){0,3}(?:said|cried|answered|asked|replied|whispered|shouted|quavered|murmured|called|thought|exclaimed|remarked|returned|sighed)\b|(?:said|cried|answered|asked|replied)\b)/u;
/** Orders that a question is made of. */
const TALKING_ORDER =
  /^(?:name|give|say|find|point|explain|compare|describe|choose|decide|rank|imagine|look|tell|take|defend)\b/iu;
const GROUP =
  /\b(?:in (?:pairs|threes|fours|small groups|teams)|each (?:child|pair|pupil|group|team|of them)|every(?:one|body) (?:draws?|writes?|takes?|stands?|sits?|gets?|says?|makes?|brings?|tries)|the (?:children|class|pupils|group|younger ones)|one child|half the class|two volunteers|two children|around the table|round the table|in a ring)\b/iu;
const THINGS =
  /\b(?:paper|pencils?|cards?|cups?|glass(?:es)?|water|salt|flour|eggs?|thread|wool|cloth|buttons?|sticks?|stones?|pebbles?|soil|earth|leaf|leaves|tape|ruler|mirror|ink|lamp|torch|rope|twigs?|coins?|pennies|counters|jars?|bowls?|trays?|string|matches|scissors|candles?|magnet|vinegar|seeds?|beans?|clay|glue|sponges?|keys?|envelopes?|boxe?s?|bags?|chairs?|bread|butter|sheet|socks?|pins?|needles?)\b/giu;
const ON_HAND =
  /\b(?:on the (?:table|board|floor)|hand (?:out|round)|pass(?:ed)? (?:it )?round|hold up|set out|lay (?:out|them|it)|cover them|blindfold(?:ed)?|act out|role-?play|demonstrate|hot seat|lolly sticks|by lot|draw lots|reading in parts|blank (?:face|map|card)s?|slates?)\b/iu;
const TIMED = /\b(?:\d{1,3}|five|ten|fifteen|twenty|thirty|one full|a full) ?(?:min(?:ute)?s?)\b/iu;
const LEADS_TO =
  /\b(?:ask (?:them|what|who|how|the|each)|talk about|then (?:discuss|read|talk|ask|look|test|tell)|point to|that is how|the idea is|the lesson is|so (?:it is|is) with|like (?:the|a) heart)\b/iu;

const DUE =
  /\b(?:due(?: on| by)?|hand(?:ed)? (?:it |them )?in|by (?:next )?(?:mon|tues|wednes|thurs|fri|satur|sun)day|by (?:the end|half-?term|next (?:week|lesson|time)|\d{1,2}(?:st|nd|rd|th)? \p{L}+)|for (?:next (?:week|time|lesson)|the (?:last|next) (?:meeting|lesson)|the \d{1,2}(?:st|nd|rd|th)|(?:mon|tues|wednes|thurs|fri)day)|(?:by|before|on|until) the \d{1,2}(?:st|nd|rd|th)|next (?:mon|tues|wednes|thurs|fri)day|before (?:next|our next|the next)|over the (?:holidays|weekend|half-?term)|bring (?:it|one|them|the result) (?:back|next|on|to)|at home|this week|during the week)\b/iu;
const AMOUNT =
  /\b(?:\d+|a|an|one|two|three|four|five|six|eight|ten|twelve|fourteen|half a|a few|twenty|a hundred|two hundred) (?:more |short |good |full )?(?:pages?|paragraphs?|words|sentences?|lines?|stanzas?|verses?|sides?)\b/iu;
const WRITTEN_WORK =
  /^(?:\d+[.)] )?(?:write|copy(?: out)?|memorise|memorize|learn|compose|research|interview|find out|illustrate|finish|answer|revise|prepare|keep|choose|retell|summarise|read)\b/iu;
/** A piece of work named for what it is to be. */
const WORK_NAMED =
  /^(?:a|an|one|two|half a|three) (?:\p{Ll}+ )?(?:letter|paragraph|page|poster|essay|diary|report|poem|chart|summary|talk|timeline|portrait|verse|side|account|speech|review)s?\b[^.]*\b(?:from|on|about|of|to|by|as|in|against|for|what)\b|^(?:letter|paragraph|essay|poster|report|summary|page) (?:from|on|about|of|to|by|against)\b/iu;
const LEARN_BY_HEART =
  /\b(?:by heart|in (?:your|their) own words|in full sentences|best handwriting|say it to|in the manner of)\b/iu;
const READ_ON =
  /^(?:finish |re-?)?read(?:ing)? (?:on |up )?(?:chapters?|ch\.|to (?:the end|page|p\.|ch)|pages?|pp?\.|parts? \w+|the (?:first|next|last) \w+ (?:chapters?|pages?)|stave|book \w+|act \w+|scenes?)/iu;

/** An opening without a verb that counts or lists things: "Six jars with lids, a pinch of something in each". */
const LISTS_THINGS =
  /^(?:a|an|one|two|three|four|five|six|seven|eight|some|\d+) (?!of\b)[^.?!:;]{3,70}(?:,| and )[^.?!]*[.:]\s|^(?:a|an|one|two|three|four|five|six) (?:\p{Ll}+ )?(?:tray|bowl|jar|box|basket|candle|sheet|circle|map|bag|stone|string|pair of|game|walk|pinch|slice|saucer|line of tape)\b/iu;
/** Told as past: what happened is no plan for what is to happen. */
const TOLD =
  /\b(?:laughed|talked|loved|hated|wrote|handed in|went (?:flat|well|very well)|gave out|asked (?:them|me)|were|was|came|cheered|discussed|tried|turned out|broke|said|read it|enjoyed|had (?:a|no|the))\b/iu;

/** Words nobody writes in a notebook of their own. */
const OLD_WORDS =
  /\b(?:thou|thee|thy|thine|hath|doth|shalt|wilt|whence|ere|o’er|o'er|ne’er|ne'er|’tis|'tis|’twas|'twas|unto|verily|maketh|saith)\b/iu;
const WHOLE_SCRIPTURE =
  /[.!?,”’"']\s*[(–—-]?\s*(?:[1-3] )?\p{Lu}\p{Ll}+\.? \d{1,3}[:.]\d{1,3}(?:[-–]\d{1,3})?\)?\.?$/u;

/** Lines of a poem with a stroke between them, each beginning with a capital. */
const VERSE_ON_ONE_LINE = /\p{L}[,.;:!?]? \/ [“‘"']?\p{Lu}\p{Ll}/u;
/** A finished sentence, and a name or a title in brackets after it. */
const FROM_IN_BRACKETS =
  /[.!?] \(\p{Lu}\p{Ll}+(?: (?:\p{Lu}\p{Ll}+|of|the|and|in|to|it|It)){0,5}\)$/u;

/**
 * The kind of entry a text most likely is, from its own signs alone: labels, quotation marks and what follows them, question marks, orders
 * given and to whom, things to have ready, minutes, work to be handed in, the writer speaking of themselves. Common practice;
 * the reader decides. `text` is CommonMark.
 */
export function proposeKind(text: string): { kind: EntryKind; certainty: Certainty } {
  if (text.trim() === '') return { kind: 'note', certainty: 'guess' };
  return settleKind(kindPoints(text), trustIn(text));
}

/** The kind with the most points, as sure as its lead is long; `trust`, 0 to 1, shortens the lead where signs tell less. */
export function settleKind(
  points: KindPoints,
  trust = 1,
): { kind: EntryKind; certainty: Certainty } {
  const ranked = (Object.entries(points) as [EntryKind, number][]).sort((a, b) => b[1] - a[1]);
  const [[kind, most], [, next]] = ranked as [[EntryKind, number], [EntryKind, number]];
  const lead = (most - next) * trust;
  const likely = kind === 'note' ? LEAD_FOR_LIKELY_NOTE : LEAD_FOR_LIKELY;
  return { kind, certainty: lead >= LEAD_FOR_SURE ? 'sure' : lead >= likely ? 'likely' : 'guess' };
}

/** Long texts hold signs of several kinds. */
export const trustIn = (text: string): number => (text.length > 300 ? 0.7 : 1);

/** The kind a text's own opening label names: "Homework:", "D.Q.", "You need:". */
export function labelledKind(text: string): EntryKind | undefined {
  const plain = plainText(lookedAt(text)).trim();
  return LABELS.find(([, label]) => label.test(plain))?.[0];
}

/** Beginning and end of a long text: signs stand there, and the cost stays that of a page. */
function lookedAt(text: string): string {
  const even = text.length > 400 ? text.replace(/[ \t]{3,}/gu, '  ') : text;
  return even.length > 4000 ? `${even.slice(0, 3000)} … ${even.slice(-900)}` : even;
}

/** Points for each kind from the signs in a text (CommonMark). */
export function kindPoints(text: string): KindPoints {
  const quotedBlock = /^> /u.test(text.trim());
  const plain = plainText(lookedAt(text)).trim();
  const points: KindPoints = { note: 1.5, quote: 0, question: 0, lesson: 0, assignment: 0 };
  if (quotedBlock) points.quote += 4;
  for (const [kind, label] of LABELS) if (label.test(plain)) points[kind] += 6;
  const body = plain.replace(/^[\p{L}. ]{1,20}[:–—]\s+/u, '');
  quotePoints(plain, lookedAt(text), points);
  questionPoints(plain, points);
  workPoints(plain, body, points);
  notePoints(plain, points);
  return points;
}

function quotePoints(plain: string, raw: string, points: KindPoints): void {
  const bare = plain.replace(/^(?:pp?\. ?\d+[-–]?\d*|ch(?:apter|\.)? ?\w+)[:,.]?\s+/iu, '');
  const { whole, share, signed } = signedQuotation(bare);
  if (whole) points.quote += bare.length > 30 ? 5.5 : 3.5;
  else if (share >= 0.6 && bare.length > 30) points.quote += 4.5;
  else if (enclosedShare(bare) > 0.85) points.quote += 2.5;
  else if (SPEECH.test(bare)) points.quote += 4;
  if (signed && (whole || share > 0)) points.quote += 1.5;
  else if (signed) points.quote += FIRST_PERSON.test(signed) ? 1 : 5;
  if (WHOLE_SCRIPTURE.test(plain)) points.quote += 4;
  if (OLD_WORDS.test(plain)) points.quote += 1.5;
  if (VERSE_ON_ONE_LINE.test(plain)) points.quote += 4;
  if (!signed && FROM_IN_BRACKETS.test(plain) && !FIRST_PERSON.test(plain)) points.quote += 2.5;
  const lines = raw.split('\n').filter((line) => line.trim() !== '');
  const verse =
    lines.length > 1 && lines.every((line) => /^[“‘"']?\p{Lu}/u.test(line) && line.length < 70);
  if (verse) points.quote += 2;
}

function questionPoints(plain: string, points: KindPoints): void {
  const said = points.quote >= 4;
  const sentences = sentencesOf(plain);
  const last = sentences.at(-1) ?? '';
  const asked = sentences.filter((sentence) => ENDS_ASKING.test(sentence)).length;
  if (ENDS_ASKING.test(plain)) {
    const own = FIRST_PERSON.test(plain) || (OUR.test(plain) && HOUSEHOLD.test(plain));
    points.question += said ? 0.5 : own ? 1.5 : 4.5;
    if (!said && !own && plain.length < 320) points.question += 0.5;
    if (!said && !own && ASKING_WORD.test(last)) points.question += 1;
  } else if (!said && asked > 0) {
    points.question += SECOND_ORDER.test(plain) && !FIRST_PERSON.test(plain) ? 4.5 : 1;
    points.note -= FIRST_PERSON.test(plain) ? 0 : 0.5;
  }
  if (!said && asked > 0 && ASKS_A_READER.test(plain)) points.question += 0.5;
  if (asked === 0 && ASKING_WORD.test(plain) && /,? and why$/iu.test(plain)) points.question += 3;
  if (TALKS_IT_OVER.test(plain) && !/^compare with/iu.test(plain)) points.question += 2;
  if (asked === 0 && /^(?:what|who|why|how)\b[^.]{3,60}$/iu.test(plain)) points.question += 1.5;
}

/** A list of things in no sentence, as for the shops: with commas, or a thing to a line. */
const SHOPPING =
  /^(?:\p{Ll}|\d)[^.?!:]*,[^.?!:]*,[^.?!:]*$|^(?:[^.?!:\n]{1,40}[.!]*\n\s*){2,}[^.?!:\n]{1,40}[.!]*$/u;
const TO_BUY =
  /\b(?:eggs|milk|bread|butter|candles|stamps|biscuits|string|oats|potatoes|marmalade|bin bags|plaster|soap|flour|sugar|tea|market|shopping)\b/giu;

/** A list for the house, not of reading: no sentence asks or tells, and two things and more are for the larder. */
export function isHouseholdList(text: string): boolean {
  const plain = plainText(lookedAt(text)).trim();
  const list = plain.replace(/^(?:market|shopping|shop|to buy|buy)\s*[:–—]\s*/iu, '');
  if (list.length > 300 || (list === plain && !SHOPPING.test(list))) return false;
  return new Set((plain.match(TO_BUY) ?? []).map((thing) => thing.toLowerCase())).size >= 2;
}

function workPoints(plain: string, body: string, points: KindPoints): void {
  const forMyself = FOR_MYSELF.test(plain) || ASK_SOMEBODY.test(plain);
  if (forMyself || NO_ORDER.test(plain) || TO_SOMEBODY.test(plain)) {
    points.note += TO_SOMEBODY.test(plain) ? 1 : 2;
    return;
  }
  if (isHouseholdList(plain) || (SHOPPING.test(plain) && !ORDER.test(plain))) {
    points.note += 1;
    return;
  }
  const sentences = sentencesOf(body);
  const orders = clausesOf(body).filter(
    (clause) => ORDER.test(clause) && !NO_ORDER.test(clause),
  ).length;
  const opens = ORDER.test(body);
  const asks = ENDS_ASKING.test(plain);
  const quoted = points.quote >= 4;
  if (quoted) return;
  if (opens) {
    points.note -= 1;
    points.lesson += 1.5;
    points.assignment += 1;
  } else if (orders > 0) {
    // Orders after an opening of another kind: the opening sets the scene, or lists what is needed.
    points.note -= 1.5;
    points.lesson += 0.8;
    points.assignment += 0.8;
  }
  points.lesson += Math.min(Math.max(orders - 1, 0), 3) * 0.6;
  if (sentences.some((sentence) => WRITTEN_WORK.test(sentence)) && !WRITTEN_WORK.test(body))
    points.assignment += 1;
  const things = LISTS_THINGS.test(body);
  if (things) points.lesson += 1.2;
  const told = HAVE_THEM.test(body);
  if (told) {
    points.lesson += opens ? 2 : 3;
    points.note -= opens ? 0 : 1;
  }
  const group = GROUP.test(body);
  const count = new Set((body.match(THINGS) ?? []).map((thing) => thing.toLowerCase())).size;
  const hand = ON_HAND.test(body) || count > 1;
  const led = LEADS_TO.test(body);
  if (group) points.lesson += orders > 0 || hand ? 2.5 : 1;
  const past = TOLD.test(body) && orders === 0;
  if (past) {
    points.note += 1;
    return;
  }
  if (hand) points.lesson += orders > 0 || group || things ? 2 : count > 1 ? 1.5 : 0.5;
  else if (count > 0 && orders > 0) points.lesson += 0.8;
  if (TIMED.test(body)) points.lesson += orders > 0 || group || hand ? 2 : 0.5;
  if (led && (orders > 0 || group || hand)) points.lesson += 1;
  if (/\b(?:adult|grown-up)\b/iu.test(body) && (orders > 0 || hand)) points.lesson += 1;
  if (orders > 0 && asks && !opens) points.question += 0.5;
  if (asks && opens && !TALKING_ORDER.test(body)) points.question -= 2;
  else if (asks && (group || hand || (count > 0 && orders > 0))) points.question -= 2.5;
  assignmentPoints(body, opens, group, points);
}

function assignmentPoints(body: string, opens: boolean, group: boolean, points: KindPoints): void {
  const written = WRITTEN_WORK.test(body);
  const due = DUE.test(body);
  if (written) points.assignment += 2;
  if (due) points.assignment += opens || written ? 3 : 1.5;
  if (AMOUNT.test(body)) points.assignment += opens || written ? 2 : 0.5;
  if (LEARN_BY_HEART.test(body)) points.assignment += 2;
  if (READ_ON.test(body)) points.assignment += 3.5;
  if (WORK_NAMED.test(body)) points.assignment += due || AMOUNT.test(body) ? 3.5 : 2;
  if (/\b(?:mon|tues|wednes|thurs|fri)day\.?$/iu.test(body) && !TOLD.test(body))
    points.assignment += due ? 0 : 1.5;
  if (opens && /\b(?:you|your)\b/iu.test(body) && !group) points.assignment += 1;
  if (group) points.assignment -= 1;
}

function notePoints(plain: string, points: KindPoints): void {
  const words = plain.split(/\s+/u).length;
  const finished = /[.!…][)”’"']?$/u.test(plain);
  if (words < 6 && !finished) points.note -= 0.5;
  if (points.quote >= 4) return;
  if (FIRST_PERSON.test(plain))
    points.note += OF_READING.test(plain) || DIARY.test(plain) || PAST_EVENT.test(plain) ? 2 : 1.2;
  else if (OUR.test(plain)) points.note += 0.7;
  if (DIARY.test(plain)) points.note += 1;
  if (HOUSEHOLD.test(plain) && points.lesson < 3) points.note += 0.3;
  if (OF_READING.test(plain) && !ORDER.test(plain)) points.note += 0.8;
  if (finished && words > 5 && !ORDER.test(plain)) points.note += 0.8;
  if (finished && PAST_EVENT.test(plain) && !ORDER.test(plain)) points.note += 0.3;
}

/** Sentences and their parts after colons and semicolons. */
const clausesOf = (plain: string): string[] =>
  sentencesOf(plain).flatMap((sentence) => sentence.split(/[;:—]\s+|, then /u));

/** Sentences, roughly: a stop, then a space and a capital or a mark. */
function sentencesOf(plain: string): string[] {
  return plain
    .split(/(?<=[.!?…][”’"')]?)\s+(?=[\p{Lu}\d“‘"'(])/u)
    .map((sentence) => sentence.trim())
    .filter(Boolean);
}
