/** The version written into every result; a test keeps it equal to package.json. */
export const VERSION = '0.1.0';
