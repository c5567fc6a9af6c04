/** What the recogniser on the device listens for on one aircraft, apart so that it is loaded when it is used. */
export { listeningTo as listeningParts } from '#grammar';
