export {
  conditionalSurvival,
  cumulativeHazard,
  density,
  drawLives,
  hazard,
  lifeVariance,
  logSurvival,
  meanLife,
  meanUpTo,
  quantile,
  remainingLife,
  survival,
} from './functions.js';
