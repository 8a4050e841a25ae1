/** How hot a position gets and for how long, as positions.csv and site.json say it. */

/** Columns of positions.csv; null = not given. */
export interface PositionHeat {
  steamCelsius: number | null;
  steamHoldMinutes: number | null;
  hotCleanCelsius: number | null;
  hotCleanHoldMinutes: number | null;
  /** Of what runs through the valve, as a mean over its days in use. */
  serviceCelsius: number | null;
}

/** Of a position; left out where none of the columns says anything. */
export interface Heated {
  heat?: PositionHeat;
}

/** An activation energy of site.json, turned into kJ/mol. */
export interface MaterialEnergy {
  material: string;
  kJPerMol: number;
  low: number;
  high: number;
  source: string;
  /** Coldest and hottest of the data it rests on; null where not given. */
  lowestCelsius: number | null;
  highestCelsius: number | null;
}

/** `heat_dose` of site.json. */
export interface HeatSettings {
  /** Null: 121 degrees C. */
  referenceCelsius: number | null;
  energies: MaterialEnergy[];
}

/** Of a site; left out where site.json has no `heat_dose`. */
export interface HeatedSite {
  heatDose?: HeatSettings;
}
