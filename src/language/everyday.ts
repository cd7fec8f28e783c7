/** Words that are in every text and name nothing: common verbs and descriptions, the commonest nouns, numbers, and what notes of reading are made of. */
import everyday from '../../shared/thesaurus/everyday-words.json';
import { stem } from './stem';

/** Irregular forms, which the stemmer does not bring back to their verb. English has no more of the common ones. */
const IRREGULAR =
  'ate became began begun bent bit bitten blew blown bore bought bound bred broke broken brought built burnt came caught chose chosen clung crept dealt drank drawn dreamt drew driven drove drunk dug dying fallen fed fell felt fled flew flown forgave forgiven forgot forgotten fought found froze frozen gave given gone grew ground grown heard held hid hidden hung kept knelt knew known laid lain lay leant led left lent lit lost lying made meant met paid ran rang ridden risen rode rose said sang sank sat saw seen sent shaken shone shook shot shown shrank slept slid sold sought spent spoke spoken sprang stole stolen stood struck stuck sung sunk swam swept swore sworn swum swung taken taught thought threw thrown told took tore torn tied trod understood went wept woke woken won wore worn wove woven wrote written';
const PLURALS = 'children feet men mice oxen people teeth women';
/** Function words that a search may still be for. */
const POINTING =
  'anybody anyone anything elsewhere everybody everyone everything goes gone nobody no-one nothing somebody someone something since somewhere whatever whenever whether whoever yes';
const NUMBERS =
  'zero two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen twenty thirty forty fifty sixty seventy eighty ninety hundred thousand million billion dozen score first second third fourth fifth sixth seventh eighth ninth tenth once twice thrice half quarter';
/** Nouns that only carry others, and verbs' own nouns that are in every text. */
const CARRYING =
  'act being finding fact living making manner matter means opening order passing playing setting sort thinking way works';
/** What is said of every book. */
const OF_READING =
  'author answer assignment book chapter circle discussion entry handout journal lesson meeting note page paragraph passage question quotation quote reader scene sentence text title';

const FORMS: ReadonlySet<string> = new Set(
  [NUMBERS, IRREGULAR, PLURALS, POINTING, CARRYING, OF_READING].join(' ').split(' '),
);
const STEMS: ReadonlySet<string> = new Set([
  ...everyday.stems.split(' '),
  ...[CARRYING, OF_READING].join(' ').split(' ').map(stem),
]);
const KEPT: ReadonlySet<string> = new Set(everyday.kept.split(' '));

/** Whether a word, folded and without a possessive ending, says too little to name what texts are about. A number is one, in words or figures. */
export function isEveryday(folded: string): boolean {
  return /\d/.test(folded) || folded.split(/['-]/).some(isEverydayPart);
}

function isEverydayPart(word: string): boolean {
  if (FORMS.has(word) || FORMS.has(word.replace(/s$/, ''))) return true;
  if (KEPT.has(word)) return false;
  const own = stem(word);
  // The list spells as in America, and has no highest degrees.
  const others = [own, own.replace(/is$/, 'iz'), stem(word.replace(/est$/, ''))];
  return others.some((each) => STEMS.has(each));
}
