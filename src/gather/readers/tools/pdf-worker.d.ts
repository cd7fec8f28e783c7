/** The worker of pdf.js, imported for its effect: it offers itself to pdf.js in the same thread. */
declare module 'pdfjs-dist/legacy/build/pdf.worker.mjs';
