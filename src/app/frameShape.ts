/** The panel stands beside the map where there is width for both; elsewhere it is a sheet that rises over it. */
export const dockedQuery = '(min-width: 62.5rem) or ((min-width: 37.5rem) and (orientation: landscape))'
