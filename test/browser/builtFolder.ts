/** Where the built app lies. `RINGTRUE_DIST` names another place, so that two builds of one tree do not disturb each other. */
export const builtFolder = (): string => process.env.RINGTRUE_DIST ?? 'dist';
