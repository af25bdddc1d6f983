/** Items on a page when a query does not say. */
export const DEFAULT_PAGE = 50;
/** The most items a page may have. */
export const LARGEST_PAGE = 500;
