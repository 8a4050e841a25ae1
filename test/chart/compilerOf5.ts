/** Notebooks show charts as version 5 of the language, the report draws them by version 6: both must take them as they are. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { compileFunction } from 'node:vm';
import * as vega from 'vega';

interface Compiler {
  version: string;
  compile(spec: object, options: { logger: unknown }): unknown;
}

/**
 * What the compiler of version 5 has to say of a spec. Its one file requires the drawing library, and the one installed cannot be required, so
 * it is handed over; version 5 asks it for names of its parts only.
 */
export function compilerOf5(): (spec: object) => string[] {
  const require = createRequire(import.meta.url);
  const path = require.resolve('vega-lite-5');
  const own = createRequire(path);
  const exports = {} as Compiler;
  const given = (name: string): unknown => (name === 'vega' ? vega : own(name));
  compileFunction(readFileSync(path, 'utf8'), ['exports', 'require', 'module'])(exports, given, { exports });
  if (!exports.version.startsWith('5.')) throw new Error(`vega-lite-5 is version ${exports.version}`);
  return (spec) => said(exports, spec);
}

function said({ compile }: Compiler, spec: object): string[] {
  const told: string[] = [];
  const log = vega.logger(vega.Warn);
  const keep = (...words: readonly unknown[]) => {
    told.push(words.map(String).join(' '));
    return log;
  };
  log.warn = keep;
  log.error = keep;
  compile(spec, { logger: log });
  return told;
}
