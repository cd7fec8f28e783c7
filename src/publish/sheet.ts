/**
 * The print stylesheet, and the sheet of paper a browser shows. Sizes are in rem, one rem being 10pt
 * on paper, so that a larger printing is one number. Fills that carry meaning are drawn as SVG,
 * because browsers leave CSS backgrounds out when they print.
 */
import { cssString } from './safe-text';
import { BOOK, BOOK_SCREEN } from './sheet-book';

export type Paper = 'A4' | 'Letter';
/** Usual; large print (18pt prompts and up); dyslexia-friendly (sans, spaced, no italics); plain (sans throughout). */
export type Preset = 'usual' | 'large' | 'dyslexia' | 'plain';
export type Lines = 'ruled' | 'dotted' | 'plain';

export interface SheetStyle {
  copy: 'leader' | 'handout' | 'book';
  paper: Paper;
  preset?: Preset;
  lines?: Lines;
  /** Plain words for the foot of every page: left, middle ("pages" for "1 of 2", "page" for "1"), right. */
  foot: { left: string; middle?: 'pages' | 'page'; right: string };
}

const SERIF = 'Alegreya, Georgia, "Times New Roman", serif';
const SANS = '"Alegreya Sans", "Gill Sans", Calibri, system-ui, sans-serif';

/** The margin boxes of the page; Letter is shorter, so it gives up white at head and foot. */
function page({ paper, foot, preset }: SheetStyle): string {
  const margins = paper === 'A4' ? '18mm' : '14mm 18mm 16mm';
  const plain = preset === 'plain' || preset === 'dyslexia';
  const font = plain ? `400 9.5pt ${SANS}` : `italic 400 9pt ${SERIF}`;
  const box = (name: string, content: string, align: string): string =>
    `@${name}{content:${content};font:${font};color:#333;text-align:${align};vertical-align:top;padding-top:5.5mm;white-space:pre}`;
  const counted = { pages: 'counter(page) " of " counter(pages)', page: 'counter(page)' };
  const middle = foot.middle ? box('bottom-center', counted[foot.middle], 'center') : '';
  return `@page{size:${paper === 'A4' ? 'A4' : 'letter'};margin:${margins};
${box('bottom-left', cssString(foot.left), 'left')}
${middle}
${box('bottom-right', cssString(foot.right), 'right')}}`;
}

const COMMON = `
*{box-sizing:border-box}
html{font-size:10pt;color-scheme:light;-webkit-text-size-adjust:100%}
body{margin:0;color:#000;background:#fff;font:400 1.1rem/1.35 var(--serif);overflow-wrap:break-word;text-wrap:pretty}
h1,h2,h3,p,ol,ul,blockquote,figure,dl,dd{margin:0;padding:0;font-weight:inherit;font-size:inherit}
ol,ul{list-style:none}
a{color:inherit;text-decoration-thickness:.5pt;text-underline-offset:2pt}
code,pre{font-family:inherit;white-space:pre-wrap}
/* The font shorthand sets figures back to old style; times and counts want them lining and of one width. */
.clock,.side,.span,.bars,.key,.n{font-variant-numeric:lining-nums tabular-nums!important}
.cue,.aside,.care{font-variant-numeric:lining-nums!important}
.symbols{position:absolute}
.glyph{width:1em;height:1em;fill:currentColor;vertical-align:-.12em}
h1{font:500 3.1rem/1.08 var(--serif);letter-spacing:-.012em;text-wrap:balance}
.words>*+*{margin-top:.5em}
.words ul>li,.cue ul>li{list-style:disc;margin-left:1.2em}
.words ol>li,.cue ol>li{list-style:decimal;margin-left:1.4em}
.words blockquote{padding-left:1em}
.line{font-weight:500}
.thick{border-top:1.7pt solid #000;position:relative}
.thick::before{content:"";position:absolute;left:0;right:0;top:1.9pt;border-top:.6pt solid #000}
.care{break-inside:avoid;border:.8pt solid #000;padding:2.6mm 3.5mm;margin-bottom:6mm;font:400 1.05rem/1.35 var(--sans)}
.care h2{font:700 1.1rem/1.3 var(--sans)}
.care li{margin-top:.25em}
.care li:last-child{font-weight:700}
table{border-collapse:collapse}
.soft{font:italic 400 1.25rem/1.3 var(--serif);break-after:avoid}
.works{margin-top:5mm;break-inside:avoid}
.works .sources{font-size:1.1rem;line-height:1.35;margin-top:1mm;padding-left:8mm;text-indent:-8mm}
`;

const LEADER = `
.head{display:grid;grid-template-columns:minmax(0,1fr) 52mm;column-gap:9mm;padding-bottom:8.5mm;break-after:avoid}
.sub{margin-top:2.2mm;font-size:1.37rem;line-height:1.3;text-wrap:balance}
.when{margin-top:2.4mm;font-size:1.15rem;color:#222}
.aside{padding-top:1mm;font:400 1.05rem/1.42 var(--sans)}
.aside h2{font:italic 400 1.2rem/1.25 var(--serif)}
.aside p+h2{margin-top:1.6mm}
.goal,.leadnote{margin:0 0 5mm;font-size:1.2rem;max-width:145mm}
.goal b,.leadnote b{font:700 1.05rem var(--sans)}
.part{margin-bottom:4.6mm}
.part:last-of-type{margin-bottom:0}
.parthead{display:grid;grid-template-columns:auto minmax(0,1fr) auto;align-items:baseline;column-gap:4mm;padding:3.1mm 0 2.2mm;break-after:avoid;break-inside:avoid}
.parthead h2{font:500 1.92rem/1.15 var(--serif)}
.parthead .aim{font-style:italic;font-size:1.22rem;line-height:1.3}
.span{font:500 1.05rem/1.3 var(--sans);white-space:nowrap}
.item{position:relative;display:grid;grid-template-columns:12mm 7mm minmax(0,1fr) 18mm;break-inside:avoid;padding-bottom:4.4mm}
.item:first-child{break-before:avoid}
.clock{font:700 1.15rem/1.15rem var(--sans);padding-top:.28rem}
.kind{font-size:1rem;line-height:1;padding:.4rem 0 0;display:block}
.kind .glyph{display:block}
.item:not(:last-child)>.kind::after{content:"";position:absolute;left:calc(12mm + .5rem - .3pt);top:1.75rem;bottom:-.1rem;border-left:.6pt solid #000}
.prompt{font-size:1.4rem;line-height:1.29;padding-right:6mm}
.prompt .name{font-weight:500}
.words .name+*{margin-top:0}
.prompt th,.prompt td{font:400 1.05rem/1.3 var(--sans);text-align:left;padding:.6mm 3mm .6mm 0;border-bottom:.5pt solid #777;min-width:16mm;height:1.9em}
.prompt th{font-weight:700}
.cue{font:400 1.1rem/1.38 var(--sans);margin-top:.75mm;padding-right:9mm}
.cue>p+p{margin-top:.3em}
.cue b{font-weight:700}
.used .glyph{margin-right:1.2mm}
.side{font:400 1.02rem/1.25 var(--sans);padding-top:.25rem}
.side b{display:block;font-size:1.05rem}
.sorts{display:block;width:7.4mm;height:2.6mm;margin:.9mm 0 .6mm;fill:currentColor}
.must{display:block}
.ending{display:grid;grid-template-columns:19mm minmax(0,1fr);align-items:baseline;border-top:.8pt solid #000;margin-top:3mm;padding-top:2.2mm;font-size:1.2rem;font-variant-numeric:lining-nums;break-before:avoid}
.spare{break-inside:auto;margin-top:9mm;border-top:.8pt solid #000;padding-top:2.2mm}
.spare>ol>li{display:grid;grid-template-columns:7mm minmax(0,1fr) 18mm;column-gap:3mm;break-inside:avoid;margin-top:1.8mm;font-size:1.15rem}
.spare .kind{padding:.2rem 0 0 0;font-size:.95rem}
.spare .cue{font-size:1rem}
.spare .side{padding:0}
.keep{break-inside:avoid;margin-top:7.5mm;border-top:.8pt solid #000;padding-top:2.2mm}
.keep .rules{margin-top:2.5mm}
.keep .rules i{display:block;height:8.4mm;border-bottom:.5pt solid #444}
.tail{break-inside:avoid;margin-top:7.5mm;border-top:.8pt solid #000;padding-top:2.2mm}
.bars{display:grid;grid-template-columns:repeat(6,minmax(0,1fr));column-gap:4mm;margin-top:1.2mm;font:400 1.02rem/1.3 var(--sans)}
.bars svg{display:block;width:100%;height:1.5mm;margin-bottom:1mm}
.bars div{display:flex;flex-wrap:wrap;justify-content:space-between}
.bars dd{font-weight:700}
.key{display:flex;justify-content:space-between;flex-wrap:wrap;gap:1mm 4mm;margin-top:4mm;font:400 1.02rem/1.3 var(--sans)}
.key .glyph{margin-right:1.6mm}
.key .sorts{display:inline-block;margin:0 1mm 0 0}
.sources{font-size:1.05rem;margin-top:3.5mm;line-height:1.35}
`;

const HANDOUT = `
.head{padding-bottom:7.5mm;break-after:avoid}
h1{font-size:3.55rem}
.sub{margin-top:3mm;font-size:1.5rem;line-height:1.32;max-width:140mm;text-wrap:balance}
.passages{padding-top:1.2mm;margin-bottom:9mm}
.two{columns:2;column-gap:16mm;column-rule:.6pt solid #000}
.passage{padding-top:4.2mm;padding-bottom:1.2mm}
.two .passage{break-inside:avoid}
.two .long{break-inside:auto}
.passage blockquote{font-size:1.7rem;line-height:1.37}
.passage blockquote>*+*{margin-top:.5em}
.passage figcaption{font-size:1.08rem;line-height:1.35;margin-top:4mm}
.block{border-top:.8pt solid #000;padding-top:2.6mm;margin-bottom:7.4mm}
.block>h2,.task>h2{font:500 1.85rem/1.2 var(--serif);break-after:avoid}
.talk>ol>li{display:grid;grid-template-columns:9mm minmax(0,1fr);font-size:1.5rem;line-height:1.32;margin-top:2.7mm;padding-right:10mm;break-inside:avoid}
.talk .n{font-weight:700}
.task{break-inside:avoid;margin-bottom:8.6mm}
.task.thick{padding-top:5mm}
.task.thick>h2{font-size:2.3rem}
.task .words{font-size:1.4rem;line-height:1.36;margin-top:2mm}
.space{margin-top:3mm}
.space i{display:block;height:14.4mm}
.ruled .space i{border-bottom:.5pt solid #555}
.dotted .space i{border-bottom:.9pt dotted #333}
.grid table{width:100%;table-layout:fixed;margin-top:2mm}
.grid th,.grid td{font:400 1.3rem/1.3 var(--serif);text-align:left;vertical-align:top;padding:2mm 3mm}
.grid thead th{font-style:italic;padding:0 3mm 1.4mm}
.grid td{height:22.5mm;border:.7pt solid #000}
.grid tr:nth-child(3)~tr td,.grid tr:has(~tr:nth-child(3)) td,.grid tr:nth-child(3) td{height:17mm}
.grid.named thead th:first-child,.grid.named td:first-child{width:33mm}
.grid.named td:first-child{border:0;padding-left:0;font-weight:500}
.next{display:grid;grid-template-columns:36mm minmax(0,1fr);column-gap:4mm;border-top:.8pt solid #000;padding-top:3mm;break-inside:avoid}
.next h2{font:500 1.85rem/1.15 var(--serif)}
.next .words{font-size:1.32rem;line-height:1.36}
.next .words+.words{margin-top:1.6mm}
.knot{display:block;width:7mm;height:7mm;margin:9mm auto 0;fill:#000}
.care,.works{margin-bottom:8.6mm}
`;

const SCREEN = `
.how,.screenfoot{display:none}
@media screen{
body{background:#E6E4D8;padding:14px 14px 48px}
.how{display:block;max-width:210mm;margin:0 auto 14px;color:#45464D;font:400 15.5px/1.4 var(--sans)}
.sheet{max-width:210mm;margin:0 auto;background:#FFF;padding:18mm;border:1px solid #C5C1AF}
.screenfoot{display:flex;justify-content:space-between;gap:1em;margin-top:12mm;font-style:italic;font-size:.95rem;color:#333}
}
@media screen and (max-width:680px){
.sheet{padding:20px 16px}
.head{display:block}.head h1{margin:0}.aside{padding-top:12px}
.parthead{display:block}
.item{grid-template-columns:40px 24px minmax(0,1fr)}
.item:not(:last-child)>.kind::after{left:calc(40px + .5rem)}
.side{grid-column:3;display:flex;gap:8px;align-items:baseline;flex-wrap:wrap}
.sorts{display:inline-block}
.bars{grid-template-columns:repeat(2,minmax(0,1fr));row-gap:8px}
.two{columns:1}.next{display:block}
}
`;

/*
 * Large print: 18pt reading text, large headings, spacing 1.15 and above (American Council of the
 * Blind 2022 and APH, as noted in the trade notes). Dyslexia-friendly: sans serif 12 to 14pt, no
 * italics (British Dyslexia Association style guide; Dyslexia Action); spacing 1.5 and wider letters
 * are from memory of the same guidance.
 */
const PRESETS: Record<Preset, string> = {
  usual: '',
  large:
    'html{font-size:15pt}.aside,.cue,.when{font-size:1.2rem}.sorts{width:11mm;height:4mm}h1{font-size:2.4rem}.item{grid-template-columns:16mm 9mm minmax(0,1fr) 27mm}.item:not(:last-child)>.kind::after{left:calc(16mm + .5rem)}.cue{padding-right:0}.ending{grid-template-columns:25mm minmax(0,1fr)}',
  dyslexia:
    'em,i,.aim,.soft,.aside h2,.grid thead th{font-style:normal}body,.prompt,.cue,.words,.passage blockquote,.talk li{line-height:1.5;letter-spacing:.03em;word-spacing:.1em}.prompt{font-size:1.3rem}.cue{font-size:1.2rem}h1{letter-spacing:0}',
  plain: '',
};

/** Every rule of one printing. */
export function sheetCss(style: SheetStyle): string {
  const plain = style.preset === 'plain' || style.preset === 'dyslexia';
  const faces = `:root{--serif:${plain ? SANS : SERIF};--sans:${SANS}}`;
  const own = { leader: LEADER, handout: HANDOUT, book: BOOK }[style.copy];
  const screen = style.copy === 'book' ? SCREEN + BOOK_SCREEN : SCREEN;
  return [faces, page(style), COMMON, own, PRESETS[style.preset ?? 'usual'], screen].join('\n');
}
