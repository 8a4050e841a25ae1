/** An empty fleet folder: headers, one example row each, settings with remarks, and a page on what to fill first. */
import { COLUMN_GUIDE } from '../fleet/columnGuide.js';
import { CSV_FILES, type CsvFile, columnsOf, EXAMPLE_MARK, SITE_FILE } from '../fleet/columnNames.js';
import { csvQuoted } from '../fleet/csvQuoted.js';
import { startPage } from './startPage.js';

/** Texts of the files by name, the page that explains them among them. */
export function startFiles(): Map<string, string> {
  return new Map([
    ...CSV_FILES.map((file) => [file, emptyTable(file)] as const),
    [SITE_FILE, SETTINGS],
    ['start-here.html', startPage()],
  ]);
}

/** The header and one row of examples, which reading sets aside by its first cell. */
function emptyTable(file: CsvFile): string {
  const columns = columnsOf(file);
  const cells = columns.map((column, i) => {
    const example = COLUMN_GUIDE[file].columns[column]?.example ?? '';
    return i === 0 ? `${EXAMPLE_MARK}${example}` : example;
  });
  return `${columns.join(',')}\n${cells.map(csvQuoted).join(',')}\n`;
}

const SETTINGS = `{
  // Remarks stand behind two slashes; take the slashes away to use a setting. Everything may be left out: what is then
  // assumed is said in the report. The README explains each name.

  "name": "Our plant",
  "currency": "EUR"

  // How numbers and dates are written in the report: a language with its country.
  // , "locale": "en-GB"

  // The first day from which every replacement is on record, and the day the export was made.
  // , "records_from": "2018-01-01"
  // , "data_until": "2025-12-31"

  // What things cost. A number, or low, likely and high where you are not sure.
  // , "money": {
  //   "labour_per_hour": 60,
  //   "fitting_hours": 0.75,
  //   "retighten_hours": 0.25,
  //   "recalibration_hours_per_accessory": 0.5,
  //   "resterilise_cost": 400,
  //   "planned_stop_hours": 4,
  //   "downtime_per_hour": 1500,
  //   "leak_downtime_hours": { "low": 6, "likely": 10, "high": 24 },
  //   "lost_batch_probability": { "low": 0.1, "likely": 0.2, "high": 0.4 },
  //   "batch_value": 90000,
  //   "cleanup_cost": 1500,
  //   "holding_rate_per_year": 0.2,
  //   "order_cost": 80
  // }

  // Limits of the maker or the site: no interval is longer.
  // , "limits": [{ "material": "EPDM", "max_days": 730 }]

  // Where positions.csv tells temperatures: heat is counted as hours at the reference, by the activation energy of each material.
  // , "heat_dose": { "reference_temperature_c": 121, "activation_energy_kj_per_mol": { "EPDM": { "low": 70, "likely": 85, "high": 105 } } }

  // How much of the unplanned demand stores is to meet at once, by criticality or one for all.
  // , "targets": { "served": { "normal": 0.95, "high": 0.98 } }

  // Your own words: how dates are written, names of columns, words in cells, tags that changed.
  // , "formats": { "all": { "dates": "day first" } }
  // , "columns": { "lives.csv": { "Date in": "fitted", "Date out": "removed" } }
  // , "values": { "reason": { "Leakage": "leak", "Preventive": "scheduled" }, "work": { "Diaphragm exchange": "replaced" } }
  // , "aliases": { "V-0017": "V-17" }
}
`;
