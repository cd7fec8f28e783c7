/** The help page: one line a command, then what every command takes. */
export function usage(): string {
  return `bookweft COMMAND, on a journal file, with no browser.

  gather PATH...       files and folders into sorted, tied entries   [--accept sure|likely|all] [--dry-run]
  find WORDS...        ranked search        [--kind K] [--theme T] [--book B] [--person P] [--from DATE] [--to DATE]
                                            [--unused-with CIRCLE] [--only-my-words] [--limit N]
  near ID              related material     [--limit N], or: near --text WORDS
  tied HEADING         all tied to it, and what probably should be   [--kind K] [--narrower]
  strands              clusters of related material, named
  chain FROM TO        how two things are connected
  plan                 compose a guide      [--focus WORDS] [--book B, or B:FROM-TO for chapters] [--theme T] [--person P]
                                            [--strand S] [--entry ID] [--circle C] [--minutes N]
                                            [--shape discussion|lesson] [--rest MONTHS] [--copy leader|handout]
                                            [--out FILE.html|.pdf|.docx|.md|.txt|.json] [--save]
                                            [--paper A4|Letter] [--preset usual|large|dyslexia|plain] [--lines ruled|dotted|plain]
                                            [--cite plain|mla|apa] [--like GUIDE] (parts, minutes, breaks and aims of a guide or template)
  met GUIDE --on DATE  record that a guide was used   [--circle C]
  copy GUIDE           keep a guide once more   [--title T] [--template] (its parts, times, breaks and aims, to begin others from)
  series BOOK          a book parted among meetings, chapters whole   --first DATE, and --meetings N or --pages-a-day N
                                            [--every DAYS] [--begin DATE] [--at TIME] [--chapters N] [--circle C] [--like GUIDE]
                                            [--minutes N] [--shape S] [--out FILE.ics] (reading schedule) [--save] (a guide for each)
  challenge NAME       which readings meet which prompts, and why the rest stay open
  figures              the year's reading   [--year Y]
  check                is the journal file sound?
  publish KIND         the journal in another form, to --out FILE: csv, json-ld (quotations, W3C Web Annotation), bibtex, csl-json,
                       skos, ics, graphml, html (a family copy to read, without answers, the leader’s notes and what is sealed),
                       book (FILE.pdf or .html, with indexes: all, or [--year Y] [--book B | --theme T | --person P])
  tour                 a guide from the demo journal, printed both ways

Every command takes --journal FILE (journal.bookweft.json in this folder when left out) and --json.
Headings go by name, another name of theirs, or id. Dates are EDTF: 2008, 2014-03, 2014-21, 201X.
Exit 0 done, 1 nothing found or some files unreadable, 2 wrong use or a broken journal (said on standard error; the file is left as it was).
`;
}
