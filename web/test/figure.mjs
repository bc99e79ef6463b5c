// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { appendFileSync } from 'node:fs';

/** Appends a figure that was promised, and what was found of it, to the file that BW_FIGURES names (test/figure.hpp). */
export function record({ claim, asked, found, met, by, varies = false }) {
  if (!process.env.BW_FIGURES) return;
  appendFileSync(process.env.BW_FIGURES, `${JSON.stringify({ area: 'Pages', claim, asked, found, met, varies, by })}\n`);
}
