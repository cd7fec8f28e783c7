/** Documents are put in order where they are at least this share of all: going through all is cheaper then than jumping about between them. */
const MANY = 1 / 16;

/** Scores of one group of terms. It is used again and again: what it holds is good until the next group is pooled. */
export class Pool {
  /** The documents that hold any of the terms, `count` of them. */
  docs = new Int32Array(0);
  count = 0;
  /** By document, 0 for the others. */
  scores = new Float64Array(0);
  /** Rarity of the group. */
  idf = 0;

  makeRoom(span: number): void {
    if (this.docs.length >= span) return;
    this.docs = new Int32Array(Math.ceil(span * 1.3));
    this.scores = new Float64Array(this.docs.length);
    this.count = 0;
  }

  /** Documents in the order of their numbers where they are many, so that whatever is looked up of them lies side by side. */
  inOrder(): void {
    const { docs, scores } = this;
    if (this.count < MANY * scores.length) return;
    let at = 0;
    for (let doc = 0; doc < scores.length; doc++) if (scores[doc] !== 0) docs[at++] = doc;
  }
}
