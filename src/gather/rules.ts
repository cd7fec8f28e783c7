/**
 * Rules learnt in one gathering from what its reader corrects: "Lines that begin D.Q. are questions". Each is shown and can be revoked; what
 * the reader settled by hand stands above any rule. Rules are worked out anew from all corrections, so revoking loses nothing.
 */
import type { EntryKind, HeadingId } from '../journal/records';
import type { GatherPiece, PieceTie } from './piece';
import { plainOf } from './plain';

type RuleSign =
  | { begins: string }
  /** Plain text of a heading or list name over the piece. */
  | { under: string }
  | { title: string };

export interface LearntRule {
  id: string;
  /** A finished sentence. */
  says: string;
  sign: RuleSign;
  kind?: EntryKind;
  tie?: PieceTie;
  /** Pieces it bears on. */
  pieces: number;
}

/** What the reader did with one piece. */
export interface Correction {
  piece: string;
  kind?: EntryKind;
  tied?: PieceTie[];
  /** Headings taken off, by id or by name. */
  untied?: (HeadingId | string)[];
}

const KINDS: Record<EntryKind, string> = {
  note: 'notes',
  quote: 'quotes',
  question: 'questions',
  lesson: 'lesson ideas',
  assignment: 'assignments',
};

/** A mark or label that opens a line: "D.Q.", "Q:", "LI -", "**", "→", "HW". */
const LABEL =
  /^(?:(?:\p{Lu}{1,4}(?:\.\p{Lu}?){0,3}|\p{L}{1,12}(?=[:.]))[:.)]*|[→>*•+~=!?#§¶@-]{1,3})(?=\s)/u;
/** Words of a heading teach only together with a second correction that agrees. */
const CORRECTIONS_UNDER = 2;

export function labelOf(text: string): string | undefined {
  const plain = plainOf(text).trimStart();
  const label = LABEL.exec(plain)?.[0];
  // A capital letter that is a word of the sentence ("A", "I") is no label.
  return label && !/^(?:A|I|O)$/u.test(label) ? label : undefined;
}

/**
 * The rules that all corrections so far agree on, those revoked left out. `pieces` are the pieces as the program sorted
 * them; rules that bear on no piece but those corrected are still told, for files may follow.
 */
export function learn(
  pieces: readonly GatherPiece[],
  corrections: readonly Correction[],
  revoked: ReadonlySet<string> = new Set(),
): LearntRule[] {
  const byId = new Map(pieces.map((piece) => [piece.id, piece]));
  const said = new Map<string, { sign: RuleSign; kinds: Map<EntryKind, number> }>();
  const tied = new Map<string, { under: string; tie: PieceTie; times: number }>();
  for (const { piece: id, kind, tied: ties = [] } of corrections) {
    const piece = byId.get(id);
    if (!piece) continue;
    if (kind) {
      const label = labelOf(piece.text);
      if (label) note(said, `begins:${label}`, { begins: label }, kind);
      const under = piece.source.under?.at(-1);
      if (under) note(said, `under:${under}`, { under }, kind);
    }
    const under = piece.source.under?.at(-1);
    for (const tie of under ? ties : []) {
      const key = `tie:${under}:${tie.kind}:${tie.name}`;
      const held = tied.get(key) ?? { under: under ?? '', tie, times: 0 };
      held.times += 1;
      tied.set(key, held);
    }
  }
  const rules: LearntRule[] = [];
  for (const [key, { sign, kinds }] of said) {
    const [[kind, times] = []] = [...kinds];
    // Corrections that contradict each other teach nothing.
    if (
      !kind ||
      times === undefined ||
      kinds.size > 1 ||
      ('under' in sign && times < CORRECTIONS_UNDER)
    )
      continue;
    const id = `${key}:${kind}`;
    rules.push({ id, says: sayRule(sign, kind), sign, kind, pieces: countOf(pieces, sign) });
  }
  for (const [id, { under, tie, times }] of tied) {
    if (times < CORRECTIONS_UNDER) continue;
    const sign = { under };
    rules.push({
      id,
      says: `What stands under “${under}” is tied to ${tie.name}.`,
      sign,
      tie,
      pieces: countOf(pieces, sign),
    });
  }
  return rules.filter(({ id }) => !revoked.has(id));
}

function note(
  said: Map<string, { sign: RuleSign; kinds: Map<EntryKind, number> }>,
  key: string,
  sign: RuleSign,
  kind: EntryKind,
): void {
  const held = said.get(key) ?? { sign, kinds: new Map<EntryKind, number>() };
  held.kinds.set(kind, (held.kinds.get(kind) ?? 0) + 1);
  said.set(key, held);
}

function sayRule(sign: RuleSign, kind: EntryKind): string {
  if ('begins' in sign) return `Lines that begin ${sign.begins} are ${KINDS[kind]}.`;
  return `What stands under “${'under' in sign ? sign.under : sign.title}” are ${KINDS[kind]}.`;
}

function countOf(pieces: readonly GatherPiece[], sign: RuleSign): number {
  return pieces.filter((piece) => bears(sign, piece)).length;
}

function bears(sign: RuleSign, piece: GatherPiece): boolean {
  if ('begins' in sign) return labelOf(piece.text) === sign.begins;
  if ('under' in sign) return piece.source.under?.at(-1) === sign.under;
  return piece.source.path === sign.title;
}

/** The rules the program goes by without being taught, one for each file whose title ties all below it to a book. */
export function titleRules(
  pieces: readonly GatherPiece[],
  revoked: ReadonlySet<string> = new Set(),
): LearntRule[] {
  const rules = new Map<string, LearntRule>();
  for (const piece of pieces) {
    for (const tie of piece.ties) {
      if (!tie.rule || tie.kind !== 'book' || revoked.has(tie.rule)) continue;
      const known = rules.get(tie.rule);
      if (known) known.pieces += 1;
      else {
        const file = piece.source.path.split('/').at(-1) ?? piece.source.path;
        const says = `The title of ${file} is the book for all below it: ${tie.name}.`;
        rules.set(tie.rule, {
          id: tie.rule,
          says,
          sign: { title: piece.source.path },
          tie,
          pieces: 1,
        });
      }
    }
  }
  return [...rules.values()];
}

/**
 * Pieces as rules and corrections make them. `pieces` are as the program sorted them; a kind or a tie by a rule is likely, by the reader
 * sure. Pieces nothing bears on are given back themselves.
 */
export function applyRules(
  pieces: readonly GatherPiece[],
  rules: readonly LearntRule[],
  corrections: readonly Correction[] = [],
  revoked: ReadonlySet<string> = new Set(),
): GatherPiece[] {
  const corrected = new Map<string, Correction[]>();
  for (const correction of corrections) {
    corrected.set(correction.piece, [...(corrected.get(correction.piece) ?? []), correction]);
  }
  return pieces.map((piece) => {
    let now = piece;
    if (piece.ties.some(({ rule }) => rule && revoked.has(rule))) {
      now = { ...now, ties: now.ties.filter(({ rule }) => !rule || !revoked.has(rule)) };
    }
    for (const rule of rules) {
      if (!bears(rule.sign, piece)) continue;
      if (rule.kind && rule.kind !== now.kind)
        now = { ...now, kind: rule.kind, certainty: 'likely', rule: rule.id };
      else if (rule.kind && now.certainty === 'guess')
        now = { ...now, certainty: 'likely', rule: rule.id };
      if (rule.tie && !('title' in rule.sign))
        now = withTie(now, { ...rule.tie, certainty: 'likely', rule: rule.id });
    }
    for (const correction of corrected.get(piece.id) ?? []) now = settledBy(now, correction);
    return now;
  });
}

function settledBy(piece: GatherPiece, { kind, tied = [], untied = [] }: Correction): GatherPiece {
  let now = piece;
  if (kind) {
    const { rule: _, ...own } = now;
    now = { ...own, kind, certainty: 'sure' };
  }
  if (untied.length > 0) {
    const gone = new Set<string>(untied);
    now = {
      ...now,
      ties: now.ties.filter(({ heading, name }) => !gone.has(heading ?? name) && !gone.has(name)),
    };
  }
  for (const tie of tied) now = withTie(now, { ...tie, certainty: 'sure' });
  return now;
}

function withTie(piece: GatherPiece, tie: PieceTie): GatherPiece {
  const same = (other: PieceTie): boolean =>
    other.kind === tie.kind &&
    (tie.heading ? other.heading === tie.heading : other.name === tie.name);
  const held = piece.ties.find(same);
  if (held && held.certainty === 'sure') return piece;
  return {
    ...piece,
    ties: [
      ...piece.ties.filter((other) => !same(other)),
      held?.place ? { ...tie, place: held.place } : tie,
    ],
  };
}
