/**
 * Writes the files of the demo plant into this folder: `npx tsx data-demo/make.ts`. The same program gives the same bytes;
 * a test holds the files kept here against it.
 */
import { writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { demoFiles } from './plant/demo.js';

const folder = dirname(fileURLToPath(import.meta.url));
for (const [name, text] of Object.entries(demoFiles())) writeFileSync(join(folder, name), text);
