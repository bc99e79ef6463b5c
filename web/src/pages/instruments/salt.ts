// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// The salt that instruments stand in: files of a recipe, or a word for one that is known.
import type { Given } from '../recipes/given';

export interface Salt {
  files: Record<string, Given>;
  given: Record<string, string>;
}
