export { type MappedFolder, mapFolder } from './mapFolder.js';
export type * from './types.js';
