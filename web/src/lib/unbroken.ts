// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Numbers of batches, lots, samples and the like within a sentence: they hold together at the end of a line.

interface Piece {
  text: string;
  /** An identifier or a day: never broken over two lines. */
  whole: boolean;
}

/** Longer ones would not fit on a line of a telephone. */
const kLongest = 24;
/** Begins at the beginning of a word alone, so that a word without end is looked through once. */
const kWithHyphen = /(?<![\p{L}\d./])[\p{L}\d./]+(?:-[\p{L}\d./]*[\p{L}\d])+/gu;

/** "Check run R26-0041-H" as "Check run " and "R26-0041-H". A word with a hyphen and no digit may break as words do. */
export function pieces(sentence: string): Piece[] {
  const out: Piece[] = [];
  let from = 0;
  for (const found of sentence.matchAll(kWithHyphen)) {
    const text = found[0];
    if (!/\d/.test(text) || text.length > kLongest) continue;
    if (found.index > from) out.push({ text: sentence.slice(from, found.index), whole: false });
    out.push({ text, whole: true });
    from = found.index + text.length;
  }
  if (from < sentence.length) out.push({ text: sentence.slice(from), whole: false });
  return out;
}
