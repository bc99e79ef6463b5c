// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Puts the licence lines before a generated file: node tools/head.mjs FILE
import { readFileSync, writeFileSync } from 'node:fs';

const file = process.argv[2];
const text = readFileSync(file, 'utf8');
writeFileSync(file, `// SPDX-FileCopyrightText: The Brinewright authors\n// SPDX-License-Identifier: Apache-2.0\n${text}`);
