/** A weighted graph that can be walked: nodes are 0 to `size - 1`, links are numbered, those of a node one after another. */
export interface Ways {
  readonly size: number;
  /** The first link of a node, and one past its last. */
  begin(node: number): number;
  end(node: number): number;
  /** Where a link leads. */
  target(link: number): number;
  /** Makes the links of a node ready to be weighed, and answers what they weigh together. */
  ready(node: number): number;
  /** What a link of a node that was made ready weighs, 0 or more. */
  weight(link: number): number;
}
