import { Findings, LENGTH_UNITS, quoted, type TradeFile } from '../board-design.ts';
import { BillOfMaterials } from './bill-of-materials.ts';
import { StepReader } from './step.ts';
import { attribute, childOf, childrenOf, readXml } from './xml.ts';

// IPC-2581, revisions A to C: the consortium's open XML format for a whole design. Names of elements and attributes after its published
// schema and test cases of revision C; what differs in A and B from memory. What is read: steps with components, packages, nets, profile, and the
// bill of materials with its list of approved parts. Copper, drills, drawings and stack-up are passed over.

const UNITS: Readonly<Record<string, number>> = {
  MILLIMETER: LENGTH_UNITS.mm,
  MICRON: LENGTH_UNITS.um,
  INCH: LENGTH_UNITS.inch,
};

/** Parts of a file that hold most of its bytes and tell nothing of components and nets. */
const PASSED: ReadonlySet<string> = new Set([
  'Stackup',
  'PadStackDef',
  'PadStack',
  'SilkScreen',
  'AssemblyDrawing',
  'OtherSideView',
  'LandPattern',
  'HistoryRecord',
  'PhyNetGroup',
  'DfxMeasurementList',
  'Spec',
  'Features',
  'Line',
  'Polyline',
  'Arc',
  'Text',
  'Hole',
  'SlotCavity',
  'Fiducial',
]);
/** Of a layer, only which pad of which component lies on which net. */
const IN_LAYERS: ReadonlySet<string> = new Set(['Set', 'Pad', 'PinRef']);

/** Reads an IPC-2581 file. */
export function readIpc2581(text: string, file: string, findings = new Findings(file)): TradeFile {
  const root = readXml(
    text,
    (name, above) => !PASSED.has(name) && (!above.includes('LayerFeature') || IN_LAYERS.has(name)),
    findings,
  );
  if (!root) return findings.result('ipc-2581', []);
  if (root.name !== 'IPC-2581') {
    findings.problem(root.line, `is XML, but its root is ${quoted(root.name)}`, 'give an IPC-2581 file');
    return findings.result('ipc-2581', []);
  }
  findings.understood.push(`revision ${attribute(root, 'revision') ?? 'not said'}`);
  const ecad = childOf(root, 'Ecad');
  const list = new BillOfMaterials(root, findings);
  const header = childOf(ecad, 'CadHeader');
  const written = attribute(header, 'units')?.toUpperCase();
  const unit = written === undefined ? undefined : UNITS[written];
  if (ecad && unit === undefined) {
    findings.problem(
      header?.line ?? ecad.line,
      written === undefined ? 'does not say its units' : `${quoted(written)} is not a unit of IPC-2581`,
      'set units of CadHeader to MILLIMETER, MICRON or INCH',
    );
    return findings.result('ipc-2581', []);
  }
  if (unit !== undefined) findings.understood.push(`lengths in units of a ${written?.toLowerCase()}`);
  const data = childOf(ecad, 'CadData');
  const steps = childrenOf(data, 'Step');
  const boards = steps.filter((step) => childOf(step, 'Component') !== undefined);
  const others = steps.length - boards.length;
  if (others > 0)
    findings.understood.push(
      `${others} ${others === 1 ? 'step holds' : 'steps hold'} no components (panels) and ${others === 1 ? 'is' : 'are'} left aside`,
    );
  if (boards.length === 0) {
    if (list.isEmpty)
      findings.problem(
        root.line,
        'holds neither components nor a bill of materials',
        'export it for assembly or in full',
      );
    else findings.understood.push('it is a bill of materials alone');
    return findings.result('ipc-2581', list.isEmpty ? [] : [list.alone()]);
  }
  const layers = new Map(
    childrenOf(data, 'Layer').map((layer) => [
      attribute(layer, 'name') ?? '',
      attribute(layer, 'side')?.toUpperCase(),
    ]),
  );
  const copper = childrenOf(data, 'Layer').filter((layer) =>
    /^(?:CONDUCTOR|SIGNAL|PLANE|MIXED)$/iu.test(attribute(layer, 'layerFunction') ?? ''),
  ).length;
  return findings.result(
    'ipc-2581',
    boards.map((step) =>
      list.describing(new StepReader(step, layers, unit ?? 1, findings).board(copper), boards.length === 1),
    ),
  );
}
