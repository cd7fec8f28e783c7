import type { Block, BlockPlace, ReadWhole } from '../block';
import { BlockList, oneLine, plainProse } from './tools/block-list';
import { dateOfMetadata } from './tools/dates-found';
import { plainOfHtml } from './tools/inline-html';
import { isRecord, listOf, recordsIn, textOf, type JsonRecord } from './tools/json-values';
import { proseOf, runsOfLines } from './tools/safe-text';
import type { Watch } from './tools/watch';

const CONTEXT = /^https?:\/\/www\.w3\.org\/ns\/anno\.jsonld$/;
const TYPES = new Set(['Annotation', 'AnnotationPage', 'AnnotationCollection']);

/** Whether JSON is in the Web Annotation Data Model (W3C Recommendation, 23 February 2017), with its context or by its types. */
export function isAnnotations(value: unknown): boolean {
  const first = Array.isArray(value) ? value[0] : value;
  if (!isRecord(first)) return false;
  const context = listOf(first['@context']).some(
    (each) => typeof each === 'string' && CONTEXT.test(each),
  );
  const typed = listOf(first['type']).some((each) => typeof each === 'string' && TYPES.has(each));
  return typed && (context || 'target' in first || 'items' in first);
}

/**
 * Reads annotations: the passage a selector quotes is a quotation, a textual body the remark on it, under the title of what it is taken
 * from. Bodies and targets that are only addresses are told in the notes.
 */
export async function readAnnotations(value: unknown, watch: Watch): Promise<ReadWhole> {
  const list = new BlockList();
  let number = 0;
  let without = 0;
  let under = '';
  for (const annotation of annotationsIn(value)) {
    number += 1;
    const title = sourceTitle(annotation);
    if (title !== undefined && title !== under) {
      list.heading(plainProse(title), 1);
      under = title;
    }
    const place: BlockPlace = { note: `annotation ${number}` };
    if (!(await setDown(annotation, list, place, watch))) without += 1;
    await watch.rest();
  }
  if (without > 0) {
    list.note(
      `${without === 1 ? 'One annotation holds' : `${without} annotations hold`} neither a passage nor a remark in words, and ${without === 1 ? 'was' : 'were'} left out.`,
    );
  }
  const whole: ReadWhole = { ok: true, blocks: list.blocks, notes: list.notes };
  const title = list.settleTitle() ?? (isRecord(value) ? textOf(value['label']) : undefined);
  if (title !== undefined) whole.title = title;
  return whole;
}

function annotationsIn(value: unknown): JsonRecord[] {
  return recordsIn(value).flatMap((each) => {
    if (listOf(each['type']).includes('Annotation')) return [each];
    const pages = [...recordsIn(each['first']), ...recordsIn(each['items'])];
    return pages.flatMap((page) => ('target' in page ? [page] : recordsIn(page['items'])));
  });
}

async function setDown(
  annotation: JsonRecord,
  list: BlockList,
  place: BlockPlace,
  watch: Watch,
): Promise<boolean> {
  const written = dateOfMetadata(textOf(annotation['created']) ?? textOf(annotation['modified']));
  const passages = passagesOf(annotation)
    .map((text) => list.quote(proseOf(runsOfLines(text)), place))
    .filter((block) => block !== undefined);
  for (const block of passages) block.kind = 'quote';
  const remarks: Block[] = [];
  for (const { text, html } of remarksOf(annotation)) {
    const runs = html ? await plainOfHtml(text, watch) : runsOfLines(text);
    const block = list.paragraph(proseOf(runs), place);
    if (block) remarks.push(block);
  }
  const themes = tagsOf(annotation);
  const blocks = [...passages, ...remarks];
  // A remark that asks may be a question for others; any other is the reader's own note.
  const [on] = passagesOf(annotation);
  for (const block of remarks) {
    if (!/\?\s*$/.test(block.text)) block.kind = 'note';
    if (on !== undefined) block.on = on;
  }
  for (const block of blocks) {
    if (written) block.written = written;
    if (themes.length > 0) block.themes = themes;
  }
  if (blocks.length === 0 && themes.length > 0)
    list.paragraph(plainProse(`Themes: ${themes.join(', ')}`), place);
  return blocks.length > 0 || themes.length > 0;
}

function passagesOf(annotation: JsonRecord): string[] {
  return recordsIn(annotation['target'])
    .flatMap((target) => recordsIn(target['selector']))
    .flatMap((selector) => [selector, ...recordsIn(selector['refinedBy'])])
    .map((selector) => textOf(selector['exact']))
    .filter((text) => text !== undefined);
}

interface Remark {
  text: string;
  /** By the format its body gives. */
  html: boolean;
}

function remarksOf(annotation: JsonRecord): Remark[] {
  const remarks = bodiesOf(annotation).flatMap((body): Remark[] => {
    const text = textOf(body['purpose']) === 'tagging' ? undefined : textOf(body['value']);
    if (text === undefined) return [];
    return [
      { text, html: /^(?:text\/html|application\/xhtml)/i.test(textOf(body['format']) ?? '') },
    ];
  });
  const own = textOf(annotation['bodyValue']);
  return own === undefined ? remarks : [...remarks, { text: own, html: false }];
}

/** A textual body whose purpose is to tag is a word for filing. */
function tagsOf(annotation: JsonRecord): string[] {
  return bodiesOf(annotation)
    .filter((body) => textOf(body['purpose']) === 'tagging')
    .map((body) => oneLine(textOf(body['value']) ?? ''))
    .filter((text) => text !== '');
}

function bodiesOf(annotation: JsonRecord): JsonRecord[] {
  return recordsIn(annotation['body']).flatMap((body) => [body, ...recordsIn(body['items'])]);
}

function sourceTitle(annotation: JsonRecord): string | undefined {
  for (const target of recordsIn(annotation['target'])) {
    for (const each of [...recordsIn(target['source']), target]) {
      const title =
        textOf(each['title']) ??
        textOf(each['dc:title']) ??
        textOf(each['label']) ??
        textOf(each['name']);
      if (title) return title;
    }
  }
  return undefined;
}
