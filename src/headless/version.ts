/** That of package.json; a test holds the two together. */
export const programVersion = '0.1.0'
