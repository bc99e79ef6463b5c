// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Sentences that the commands share with the pages name options of the command line; on a page they name its fields.

const kFields: Record<string, string> = {
  anhydrous: '"Salt free of water in the blend"',
  assay: '"Assay"',
  moisture: '"Moisture"',
  'purified-solids': '"Dissolved in the purified water"',
  seed: '"Dust of CaCO3"',
  keep: '"It has to keep"',
};

/** A notice as a page says it. */
export function spoken(sentence: string): string {
  return sentence
    .replace(/\s*\(docs\/[\w/]+\.md\)/g, '')
    .replace(/\s*\((?:--[a-z-]+(?:, )?)+\)/g, '')
    .replace(/: path run(?=[.,]|$)/g, '')
    .replace(/--([a-z-]+)/g, (_, option: string) => kFields[option] ?? option.replace(/-/g, ' '));
}
