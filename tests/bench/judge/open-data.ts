/** Open judged data beside the project (`../shared/data`); nothing of it is kept here, and a set whose file is absent is said to be skipped. */
import { existsSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { gunzipSync } from 'node:zlib';

const FOLDER = resolve(process.cwd(), '../shared/data');
const pathOf = (name: string): string => resolve(FOLDER, `${name}.jsonl.gz`);

export const hasData = (...names: string[]): boolean =>
  names.every((name) => existsSync(pathOf(name)));

/** The rows of one gzipped file of JSON lines. */
export function rowsOf<Row>(name: string): Row[] {
  const text = gunzipSync(readFileSync(pathOf(name))).toString('utf8');
  return text
    .split('\n')
    .filter(Boolean)
    .map((line) => JSON.parse(line) as Row);
}

/** FairytaleQA (Xu et al., ACL 2022; Apache-2.0): a story cut into sections. */
export interface Section {
  story: string;
  section: number;
  text: string;
}

/** A question by an educator, with the sections that answer it. */
export interface StoryQuestion {
  story: string;
  sections: number[];
  question: string;
  explicit: 'explicit' | 'implicit';
}

/** SciFact (Wadden et al., EMNLP 2020; CC BY 4.0 and ODC-By). */
export interface Passage {
  id: string;
  text: string;
}
export interface Claim {
  id: string;
  query: string;
  relevant: string[];
}

/** Quotations with author and topics (MIT). */
export interface Quotation {
  text: string;
  author: string;
  tags: string[];
}
