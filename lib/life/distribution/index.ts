export {
  cumulativeHazard,
  density,
  drawLives,
  hazard,
  logSurvival,
  meanLife,
  meanUpTo,
  quantile,
  remainingLife,
  survival,
} from './functions.js';
