import { readDate } from '../../../language/dates';
import { codePageOfCharset, decodePage, RTF_CHARACTERS, RTF_SYMBOLS } from './rtf-letters';
import type { RtfToken } from './rtf-tokens';
import { MOST_PICTURE_BYTES } from './limits';
import { Unreadable } from './watch';
import { escapeHtml } from './xml';

/** Groups that hold no words of the text. */
const LEFT_OUT = new Set(
  'colortbl header headerl headerr headerf footer footerl footerr footerf fldinst themedata colorschememapping latentstyles datastore rsidtbl generator listtable listoverridetable xmlnstbl mmathPr nonshppict filetbl revtbl background template private annotationauthor atnid atnauthor atntime atnicn atnref atndate atrfstart atrfend objdata objclass bkmkstart bkmkend datafield formfield pgdsctbl wgrffmtfilter pntxta pntxtb pnseclvl'.split(
    ' ',
  ),
);
const DEEPEST_GROUP = 2000;

type Destination =
  'text' | 'skip' | 'fonts' | 'styles' | 'info' | 'title' | 'created' | 'picture' | 'mark' | 'note';

interface State {
  to: Destination;
  em: boolean;
  strong: boolean;
  hidden: boolean;
  font: number;
  /** Letters to pass over after \u, for readers that know no Unicode. */
  skipAfter: number;
}

interface Paragraph {
  heading: number | undefined;
  quote: boolean;
  title: boolean;
  /** Depth of a list from 1. */
  item: number | undefined;
  ordered: boolean;
  inTable: boolean;
}

interface StyleMeaning {
  heading?: number;
  quote?: boolean;
  title?: boolean;
}

/** Turns the tokens of RTF into HTML of the plainest kind. Take every token, then ask `done`. */
export class RtfToHtml {
  readonly pictures = new Map<string, Uint8Array>();
  title = '';
  /** EDTF. */
  written: string | undefined;
  /** Whether the outermost group came to its end. */
  closed = false;
  #out: string[] = [];
  #state: State = newState();
  #stack: State[] = [];
  #paragraph: Paragraph = newParagraph();
  #runs: string[] = [];
  #row: string[] = [];
  #rows: string[] = [];
  #cell: string[] = [];
  #bytes: number[] = [];
  #pending = 0;
  #starred = false;
  #fresh = false;
  #codePage = 1252;
  #fonts = new Map<number, number>();
  #fontEntry = 0;
  #styles = new Map<number, StyleMeaning>();
  #styleEntry = 0;
  #styleName = '';
  #mark = '';
  #hex: string[] = [];
  #hexLength = 0;
  #created = { yr: 0, mo: 0, dy: 0 };

  take(token: RtfToken): void {
    if (token.is !== 'byte') this.#flushBytes();
    switch (token.is) {
      case 'open':
        this.#stack.push(this.#state);
        if (this.#stack.length > DEEPEST_GROUP) throw tooDeep();
        this.#state = { ...this.#state };
        this.#fresh = true;
        this.#starred = false;
        return;
      case 'close':
        this.#close();
        return;
      case 'symbol':
        this.#symbol(token.symbol);
        return;
      case 'byte':
        if (this.#pending > 0) this.#pending -= 1;
        else this.#bytes.push(token.byte);
        return;
      case 'text':
        this.#fresh = false;
        this.#take(token.text);
        return;
      case 'word':
        this.#word(token.word, token.value);
        this.#fresh = false;
    }
  }

  done(): string {
    this.#flushBytes();
    this.#endParagraph();
    this.#endTable();
    return this.#out.join('').replace(/<\/blockquote><blockquote>/g, '');
  }

  #close(): void {
    const ended = this.#state;
    const outer = this.#stack.pop();
    if (!outer) return;
    this.#state = outer;
    this.#pending = 0;
    this.#fresh = false;
    if (this.#stack.length === 0) this.closed = true;
    if (ended.to === outer.to) return;
    if (ended.to === 'picture') this.#endPicture();
    else if (ended.to === 'mark') this.#endMark();
    else if (ended.to === 'created') this.#endCreated();
    else if (ended.to === 'note') this.#runs.push(']</span>');
  }

  #symbol(symbol: string): void {
    if (symbol === '*' && this.#fresh) {
      this.#starred = true;
      return;
    }
    this.#fresh = false;
    if (symbol === '\r' || symbol === '\n') this.#endParagraph();
    else if (symbol in RTF_SYMBOLS) this.#take(RTF_SYMBOLS[symbol] ?? '');
  }

  #flushBytes(): void {
    if (this.#bytes.length === 0) return;
    const text = decodePage(this.#bytes, this.#fonts.get(this.#state.font) ?? this.#codePage);
    this.#bytes = [];
    this.#fresh = false;
    this.#put(text);
  }

  /** Text as it stands in the file, less what stands for a letter already given by \u. */
  #take(text: string): void {
    const skip = Math.min(this.#pending, text.length);
    this.#pending -= skip;
    this.#put(text.slice(skip));
  }

  #put(text: string): void {
    if (text === '') return;
    switch (this.#state.to) {
      case 'text':
      case 'note':
        if (!this.#state.hidden) this.#runs.push(this.#set(escapeHtml(text)));
        return;
      case 'styles':
        this.#styleText(text);
        return;
      case 'title':
        this.title += text;
        return;
      case 'mark':
        this.#mark += text;
        return;
      case 'picture':
        this.#hexLength += text.length;
        if (this.#hexLength <= MOST_PICTURE_BYTES * 2) this.#hex.push(text);
        return;
      default:
    }
  }

  #set(html: string): string {
    const em = this.#state.em ? `<em>${html}</em>` : html;
    return this.#state.strong ? `<strong>${em}</strong>` : em;
  }

  #word(word: string, value: number | undefined): void {
    if (this.#fresh && this.#destination(word)) return;
    const on = value !== 0;
    if (word === 'u') this.#unicode(value ?? 0);
    else if (word === 'uc') this.#state.skipAfter = Math.min(Math.max(value ?? 1, 0), 20);
    else if (word === 'ansicpg') this.#codePage = value ?? 1252;
    else if (word === 'mac') this.#codePage = 10000;
    else if (word === 'f') this.#fontWord(value ?? 0);
    else if (word === 'fcharset') this.#fontCharset(value ?? 0);
    else if (word === 'i') this.#state.em = on;
    else if (word === 'b') this.#state.strong = on;
    else if (word === 'v') this.#state.hidden = on;
    else if (word === 'plain')
      Object.assign(this.#state, { em: false, strong: false, hidden: false });
    else if (word in RTF_CHARACTERS) this.#put(RTF_CHARACTERS[word] ?? '');
    else if (this.#state.to === 'created' && (word === 'yr' || word === 'mo' || word === 'dy'))
      this.#created[word] = value ?? 0;
    else if (this.#state.to === 'text' || this.#state.to === 'note') this.#layout(word, value);
    else if (this.#state.to === 'styles' && word === 's') this.#styleEntry = value ?? 0;
  }

  /** A word at the start of a group that says what the group is for. */
  #destination(word: string): boolean {
    const outer = this.#state.to;
    if (outer === 'skip') return true;
    const to = this.#whereTo(word);
    if (to === undefined) {
      if (!this.#starred || outer === 'styles') return false;
      this.#state.to = 'skip';
      return true;
    }
    this.#state.to = to;
    if (to === 'mark') this.#mark = '';
    if (to === 'picture') {
      this.#hex = [];
      this.#hexLength = 0;
    }
    if (to === 'note') this.#runs.push('<span> [');
    return true;
  }

  #whereTo(word: string): Destination | undefined {
    if (LEFT_OUT.has(word)) return 'skip';
    if (word === 'fonttbl') return 'fonts';
    if (word === 'stylesheet') return 'styles';
    if (word === 'info') return 'info';
    if (this.#state.to === 'info')
      return word === 'title' ? 'title' : word === 'creatim' ? 'created' : 'skip';
    if (word === 'pict') return 'picture';
    if (word === 'pntext' || word === 'listtext') return 'mark';
    if (word === 'footnote' || word === 'annotation') return 'note';
    // Pictures in the newer form, text boxes and the results of fields are words of the text though marked as newer than the first RTF.
    if (word === 'shppict' || word === 'shptxt' || word === 'fldrslt') return this.#state.to;
    return undefined;
  }

  #layout(word: string, value: number | undefined): void {
    const note = this.#state.to === 'note';
    if (word === 'par' || word === 'sect' || word === 'page') {
      if (note) this.#runs.push('<br>');
      else this.#endParagraph();
    } else if (word === 'line') this.#runs.push('<br>');
    else if (note) return;
    else if (word === 'pard') this.#paragraph = newParagraph();
    else if (word === 's') {
      const meaning = this.#styles.get(value ?? 0);
      this.#paragraph.heading = meaning?.heading;
      this.#paragraph.quote = meaning?.quote ?? false;
      this.#paragraph.title = meaning?.title ?? false;
    } else if (word === 'outlinelevel' && value !== undefined && value < 6)
      this.#paragraph.heading = value + 1;
    else if (word === 'ls' && value !== 0) this.#paragraph.item ??= 1;
    else if (word === 'ilvl') this.#paragraph.item = Math.min(Math.max(value ?? 0, 0), 8) + 1;
    else if (word === 'intbl') this.#paragraph.inTable = true;
    else if (word === 'cell' || word === 'nestcell') this.#endCell();
    else if (word === 'row' || word === 'nestrow') this.#endRow();
  }

  #unicode(value: number): void {
    const unit = value < 0 ? value + 0x10000 : value;
    this.#put(String.fromCharCode(unit & 0xffff));
    this.#pending = this.#state.skipAfter;
  }

  #fontWord(value: number): void {
    if (this.#state.to === 'fonts') this.#fontEntry = value;
    else this.#state.font = value;
  }

  #fontCharset(value: number): void {
    const page = codePageOfCharset(value);
    if (this.#state.to === 'fonts' && page !== undefined) this.#fonts.set(this.#fontEntry, page);
  }

  #styleText(text: string): void {
    this.#styleName += text;
    if (!this.#styleName.includes(';')) return;
    const name = this.#styleName.replace(/;.*$/s, '').trim();
    this.#styleName = '';
    const heading = /^heading (\d)$/i.exec(name)?.[1];
    const meaning: StyleMeaning = {};
    if (heading) meaning.heading = Number(heading);
    if (/^(?:title|titel)$/i.test(name)) meaning.title = true;
    if (/^(?:intense )?quot(?:e|ations?)$/i.test(name)) meaning.quote = true;
    this.#styles.set(this.#styleEntry, meaning);
    this.#styleEntry = 0;
  }

  #endMark(): void {
    this.#paragraph.item ??= 1;
    this.#paragraph.ordered = /[\da-z]/i.test(this.#mark);
  }

  #endCreated(): void {
    const { yr, mo, dy } = this.#created;
    const day = `${yr}-${String(mo).padStart(2, '0')}-${String(dy).padStart(2, '0')}`;
    if (yr > 1970 && readDate(day).ok) this.written = day;
  }

  #endPicture(): void {
    const hex = this.#hex.join('').replace(/[^0-9a-fA-F]/g, '');
    this.#hex = [];
    if (hex.length < 20 || this.#hexLength > MOST_PICTURE_BYTES * 2) return;
    const bytes = new Uint8Array(hex.length >> 1);
    for (let at = 0; at < bytes.length; at += 1)
      bytes[at] = Number.parseInt(hex.slice(at * 2, at * 2 + 2), 16);
    const name = `picture-${this.pictures.size + 1}`;
    this.pictures.set(name, bytes);
    this.#runs.push(`<img alt="picture" src="${name}">`);
  }

  #endParagraph(): void {
    const html = this.#runs.join('');
    this.#runs = [];
    if (this.#paragraph.inTable) {
      if (html !== '') this.#cell.push(`<p>${html}</p>`);
      return;
    }
    this.#endTable();
    if (html === '') return;
    const { heading, quote, title, item, ordered } = this.#paragraph;
    if (title) this.#out.push(`<h1 class="file-title">${html}</h1>`);
    else if (heading !== undefined) this.#out.push(`<h${heading}>${html}</h${heading}>`);
    else if (quote) this.#out.push(`<blockquote><p>${html}</p></blockquote>`);
    else if (item !== undefined) {
      const list = ordered ? 'ol' : 'ul';
      this.#out.push(`<${list}>`.repeat(item), `<li>${html}</li>`, `</${list}>`.repeat(item));
    } else this.#out.push(`<p>${html}</p>`);
    this.#paragraph.item = undefined;
  }

  #endCell(): void {
    const html = this.#runs.join('');
    this.#runs = [];
    this.#row.push(`<td>${this.#cell.join('')}${html}</td>`);
    this.#cell = [];
  }

  #endRow(): void {
    if (this.#row.length > 0) this.#rows.push(`<tr>${this.#row.join('')}</tr>`);
    this.#row = [];
  }

  #endTable(): void {
    if (this.#row.length > 0) this.#endRow();
    if (this.#cell.length > 0) {
      this.#out.push(...this.#cell);
      this.#cell = [];
    }
    if (this.#rows.length === 0) return;
    this.#out.push(`<table>${this.#rows.join('')}</table>`);
    this.#rows = [];
  }
}

function newState(): State {
  return { to: 'text', em: false, strong: false, hidden: false, font: -1, skipAfter: 1 };
}

function newParagraph(): Paragraph {
  return {
    heading: undefined,
    quote: false,
    title: false,
    item: undefined,
    ordered: false,
    inTable: false,
  };
}

function tooDeep(): Unreadable {
  return new Unreadable(
    'too-deep',
    'The groups of this RTF file are nested thousands deep; it is damaged or was not made by a word processor. Open it in one and save it again.',
  );
}
