/** What an option says of a covariate; a name such as 'constructor' is nothing special. */
export function ownOf<T>(options: Readonly<Record<string, T>> | undefined, name: string): T | undefined {
  return options !== undefined && Object.hasOwn(options, name) ? options[name] : undefined;
}
