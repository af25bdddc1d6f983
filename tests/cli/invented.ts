// Invented throughout: no such maker, device or part exists.

export const CATALOGUE = `caseback: catalogue/1
makers:
  - { id: ferrule-works, name: Ferrule Works, makes: [devices], invented: true }
  - { id: ombrous, name: Ombrous, makes: [parts], invented: true }
productLines:
  - { id: ferrule-band, name: Ferrule Band, maker: ferrule-works }
parts:
  - number: OM100
    maker: ombrous
    categories: [Accelerometer]
    package: LGA-12
`;

/** A dossier of the given generation of one product line. */
export function dossier(generation: number, more = ''): string {
  return `caseback: dossier/1
device:
  id: ferrule-band-${generation}
  name: Ferrule Band ${generation}
  maker: ferrule-works
  productLine: ferrule-band
  released: ${2018 + generation}-04
  bodySite: wrist
  mass: ${20 + generation} g
  succeeds: [${generation > 1 ? `ferrule-band-${generation - 1}` : ''}]
  invented: true
specimen: { id: a }
teardown: { on: ${2019 + generation}-06, by: A. Example, hazards: [lithium-cell] }
boards:
  - { id: main, kind: rigid, outline: { length: 30, width: 20 } }
components:
  - { id: U1, board: main, side: top, at: { x: 5, y: 5 }, marking: OM100, package: LGA-12 }
  - { id: J1, board: main, side: bottom, at: { x: 9, y: 5 }, appears: FlexConnector }
connections:
  - { between: [U1, J1], medium: trace, bus: I2C }
observations:
  - { id: o1, about: [U1], kind: marking, marking: OM100, on: ${2019 + generation}-06, by: A. Example }
identifications:
  - { component: U1, candidates: [{ part: ombrous/OM100, probability: 0.97 }], state: settled, basis: [o1] }
${more}`;
}

/** The files of a small archive. */
export const FILES = {
  'catalogue.yaml': CATALOGUE,
  'band-1.yaml': dossier(1),
  'band-2.yaml': dossier(2),
} as const;
