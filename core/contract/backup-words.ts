/** Days with changes and without a good backup after which the home page says so. */
export const WORD_AFTER_DAYS = 3;
