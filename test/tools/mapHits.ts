/** Prints how many columns and words of the invented exports are proposed right, asked, wrong or missed. */
import { proposeMapping } from '../../lib/fleet/mapping/proposeMapping.js';
import { sourcesOf } from '../../lib/fleet/mapping/sources.js';
import { isWritten } from '../../lib/fleet/mapping/types.js';
import { readMappings } from '../../lib/fleet/mappings.js';
import { columnHits, type Hits, isRightWord } from '../fixtures/exports/columnHits.js';
import { DIALECTS, type Dialect } from '../fixtures/exports/dialects.js';
import { HELD_OUT } from '../fixtures/exports/heldOut.js';
import { HELD_OUT_LATER } from '../fixtures/exports/heldOutLater.js';
import { HELD_OUT_UNSEEN } from '../fixtures/exports/heldOutUnseen.js';
import { makeExport } from '../fixtures/exports/makeExport.js';
import { ORDER_DIALECTS } from '../fixtures/exports/orderDialects.js';
import { orderPlant } from '../fixtures/exports/orderPlant.js';
import { demoPart } from '../fixtures/exports/plant.js';

const plant = orderPlant(await demoPart());
print('With dictionary', DIALECTS);
print('Work orders, with dictionary', ORDER_DIALECTS);
print('Held out: no word was added for them', HELD_OUT);
print('Held out later: no word was added for them', HELD_OUT_LATER);
print('Unseen while the proposals were worked on', HELD_OUT_UNSEEN);

function print(title: string, dialects: readonly Dialect[]): void {
  const total: Hits = { right: 0, asked: 0, wrong: 0, missed: 0 };
  process.stdout.write(`${title}\n`);
  for (const dialect of dialects) {
    const made = makeExport(plant, dialect);
    const proposal = proposeMapping(sourcesOf(made.files, 1e9), readMappings({}));
    const hits = columnHits(made, proposal);
    for (const kind of Object.keys(total) as (keyof Hits)[]) total[kind] += hits[kind];
    const written = proposal.words.filter(isWritten);
    const wrong = written.filter(
      ({ column, ours, theirs }) => !isRightWord(dialect, column, ours, theirs),
    ).length;
    const words = `words: ${written.length - wrong} right, ${proposal.words.length - written.length} asked, ${wrong} wrong`;
    process.stdout.write(`  ${dialect.name}: ${line(hits)}; ${words}\n`);
  }
  process.stdout.write(`  All columns: ${line(total)}\n`);
}

function line({ right, asked, wrong, missed }: Hits): string {
  const share = (100 * right) / (right + asked + wrong + missed);
  return `${right} right (${share.toFixed(1)} %), ${asked} asked, ${wrong} wrong, ${missed} missed`;
}
