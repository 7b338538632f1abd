/** The panel stands beside the map where there is width for both; elsewhere it is a sheet that rises over it. */
export const dockedQuery = '(min-width: 62.5rem) or ((min-width: 37.5rem) and (orientation: landscape))'

/** A legend along the foot of the map leaves most of it to the site: from here on it begins unfolded. */
export const legendQuery = '(min-width: 80rem) and (min-height: 46rem)'
