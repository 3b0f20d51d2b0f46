export const HELP: { readonly [path: string]: readonly [de: string, fr: string, it: string] } = {};
