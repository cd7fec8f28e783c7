/** The print stylesheet of a journal as a book: a narrow margin of marks and places, a measure that is easy to read, an index in columns. */
export const BOOK = `
.head{padding-bottom:7mm;break-after:avoid}
h1{font-size:3.4rem}
.sub{margin-top:2.6mm;font-size:1.5rem;line-height:1.32;text-wrap:balance}
.count{margin-top:2.6mm;font:400 1.05rem/1.4 var(--sans)}
.front{margin-bottom:10mm}
.front h2,.index h2{font:500 1.92rem/1.15 var(--serif);break-after:avoid;padding:3.1mm 0 2.4mm}
.front li{display:grid;grid-template-columns:minmax(0,1fr) auto;column-gap:6mm;font-size:1.2rem;line-height:1.45}
.front a,.index a{text-decoration:none}
.front a:hover,.index a:hover,.front a:focus-visible,.index a:focus-visible{text-decoration:underline}
.front .n{font:400 1.05rem/1.6 var(--sans)}
.chapter{margin-bottom:10mm}
.chaphead{padding:3.1mm 0 4.2mm;break-after:avoid;break-inside:avoid}
.chaphead h2{font:500 2.1rem/1.15 var(--serif)}
.book .chaphead h2.work{font-style:italic}
.chaphead p{font-size:1.2rem;margin-top:.8mm}
.entry{display:grid;grid-template-columns:34mm minmax(0,1fr);column-gap:6mm;padding-bottom:5.4mm}
.entry .side{font:400 1.02rem/1.38 var(--sans);padding-top:.18rem;break-inside:avoid;overflow-wrap:anywhere}
.entry .side span{display:block}
.entry .side .n{font-weight:700;margin-right:1.2mm}
.entry .glyph{margin-right:1.2mm;font-size:.92em}
.entry .words,.entry h3{font-size:1.3rem;line-height:1.42;max-width:132mm;orphans:2;widows:2}
.entry h3{font-weight:500;break-after:avoid;margin-bottom:.6mm}
.entry .themes{font:italic 400 1.1rem/1.35 var(--serif);margin-top:1mm;color:#222}
.index{break-before:page}
.index+.index{break-before:auto;margin-top:8mm}
.cols{columns:2;column-gap:10mm;font-size:1.14rem;line-height:1.4;font-variant-numeric:lining-nums}
.cols li{padding-left:4mm;text-indent:-4mm;break-inside:avoid}
.cols h3{font:700 1.05rem/1.3 var(--sans);margin:3mm 0 .8mm;break-after:avoid}
.cols .work{font-style:italic}
`;

export const BOOK_SCREEN = `
@media screen and (max-width:680px){
.entry{display:block}.entry .side span{display:inline;margin-right:.6em}
.cols{columns:1}
}
`;
