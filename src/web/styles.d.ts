// Style sheets are imported for the bundle alone.
declare module '*.css';
