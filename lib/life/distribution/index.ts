export {
  cumulativeHazard,
  density,
  drawLives,
  hazard,
  logDensity,
  logSurvival,
  meanLife,
  meanUpTo,
  quantile,
  remainingLife,
  survival,
} from './functions.js';
