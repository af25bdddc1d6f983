import { describe, expect, test } from 'vitest';
import { areaOf } from '../../src/model/outline.ts';
import { boardOf, cautionsOf, componentOf, problemsOf, reading } from './reading.ts';

// A design written by hand after the consortium's published schema and test cases of IPC-2581, revision C.

const design = (
  inside: string,
  { units = 'MILLIMETER', more = '' } = {},
) => `<?xml version="1.0" encoding="UTF-8"?>
<IPC-2581 revision="B" xmlns="http://webstds.ipc.org/2581">
<Content roleRef="Owner"><FunctionMode mode="ASSEMBLY"/><StepRef name="band"/></Content>
${more}
<Ecad name="band"><CadHeader units="${units}"/><CadData>
<Layer name="TOP" layerFunction="CONDUCTOR" side="TOP"/><Layer name="BOT" layerFunction="CONDUCTOR" side="BOTTOM"/>
${inside}
</CadData></Ecad></IPC-2581>`;
const polygon = (...corners: readonly string[]) =>
  `<Polygon><PolyBegin ${corners[0]}/>${corners
    .slice(1)
    .map((corner) => `<PolyStepSegment ${corner}/>`)
    .join('')}</Polygon>`;
const PROFILE = `<Profile>${polygon('x="2" y="3"', 'x="22" y="3"', 'x="22" y="13"', 'x="2" y="13"', 'x="2" y="3"')}</Profile>`;
const PACKAGE = `<Package name="LGA-2" type="OTHER"><Outline>${polygon('x="-1" y="-0.5"', 'x="1" y="-0.5"', 'x="1" y="0.5"', 'x="-1" y="0.5"', 'x="-1" y="-0.5"')}</Outline>
  <Pin number="1" name="VDD" electricalType="ELECTRICAL"><Location x="-0.8" y="0"/></Pin>
  <Pin number="2" electricalType="ELECTRICAL" x="0.8" y="0"/><Pin number="H" electricalType="MECHANICAL"><Location x="0" y="0"/></Pin></Package>`;

describe('an IPC-2581 file', () => {
  test('gives outline, components, pins and nets', () => {
    const board = boardOf(
      design(`<Step name="band">${PROFILE}${PACKAGE}
        <Component refDes="U1" packageRef="LGA-2" part="D1" layerRef="TOP"><Xform rotation="90"/><Location x="4" y="5"/></Component>
        <LogicalNet name="3V3" netClass="POWER"><PinRef componentRef="U1" pin="VDD"/></LogicalNet>
        <LogicalNet name="GND" netClass="GROUND"><PinRef componentRef="U1" pin="2"/></LogicalNet></Step>`),
    );
    expect(board).toEqual({
      name: 'band',
      layers: 2,
      outline: {
        points: [
          [20, 0],
          [20, 10],
          [0, 10],
          [0, 0],
        ],
      },
      components: [
        {
          designator: 'U1',
          side: 'top',
          at: [2, 2],
          atIs: 'body centre',
          rotation: 90,
          body: { length: 2, width: 1 },
          footprint: 'LGA-2',
          description: 'D1',
          // By hand: a quarter turn brings the first pin below the middle.
          pins: [
            { number: '1', name: 'VDD', at: [2, 1.2], net: '3V3' },
            { number: '2', at: [2, 2.8], net: 'GND' },
          ],
          line: 10,
        },
      ],
      nets: [
        { key: '3V3', label: '3V3', kind: 'power' },
        { key: 'GND', label: 'GND', kind: 'ground' },
      ],
    });
  });

  test('arcs by their centre, clockwise or not, and cut-outs', () => {
    const arc = (x: number, y: number, cx: number, cy: number, clockwise: boolean) =>
      `<PolyStepCurve x="${x}" y="${y}" centerX="${cx}" centerY="${cy}" clockwise="${clockwise}"/>`;
    const { outline } = boardOf(
      design(`<Step name="band"><Profile>
        <Polygon><PolyBegin x="0" y="0"/><PolyStepSegment x="20" y="0"/>${arc(20, 10, 20, 5, false)}<PolyStepSegment x="0" y="10"/>${arc(0, 0, 0, 5, true)}</Polygon>
        <Cutout><PolyBegin x="9" y="5"/>${arc(11, 5, 10, 5, true)}${arc(9, 5, 10, 5, true)}</Cutout></Profile>
        <Component refDes="R1" layerRef="BOT"><Location x="1" y="1"/></Component></Step>`),
    );
    // By hand: 20 × 10, a half disc of radius 5 added at one end and one taken at the other, less a disc of radius 1.
    expect(Math.abs((outline ? areaOf(outline) : 0) - (200 - Math.PI))).toBeLessThan(0.2);
  });

  test('a component below is turned first, then turned over with its x', () => {
    const board = boardOf(
      design(`<Step name="band">${PROFILE}${PACKAGE}
        <Component refDes="U1" packageRef="LGA-2" layerRef="BOT"><Xform rotation="90" mirror="true"/><Location x="4" y="5"/></Component>
        <Component refDes="U2" packageRef="LGA-2" layerRef="BOT"><Xform mirror="true"/><Location x="8" y="5"/></Component></Step>`),
    );
    // By hand: the first pin at (-0.8, 0) comes to (0, -0.8) and stays there, or to (0.8, 0) without a turn.
    expect(componentOf(board, 'U1').pins[0].at).toEqual([2, 1.2]);
    expect(componentOf(board, 'U2').pins[0].at).toEqual([6.8, 2]);
    expect(componentOf(board, 'U1')).toMatchObject({ side: 'bottom', rotation: 90 });
    expect(componentOf(board, 'U2')).toMatchObject({ side: 'bottom', rotation: 180 });
  });

  test('reads values, makers and places left empty from the bill of materials', () => {
    const more = `<LogisticHeader><Enterprise id="E1" code="1" name="Quistle"/></LogisticHeader>
      <Bom name="b"><BomItem OEMDesignNumberRef="D1" quantity="3" description="resistor">
        <RefDes name="R1" populate="true"/><RefDes name="R2" populate="false"/>
        <Characteristics category="ELECTRICAL"><Textual textualCharacteristicName="Value" textualCharacteristicValue="4k7"/></Characteristics></BomItem></Bom>
      <Avl name="a"><AvlItem OEMDesignNumber="D1"><AvlVmpn><AvlMpn name="ZR-1"/><AvlVendor enterpriseRef="E1"/></AvlVmpn></AvlItem></Avl>`;
    const step = `<Step name="band">${PROFILE}<Component refDes="R1" layerRef="TOP"><Location x="4" y="5"/></Component><Component refDes="R2" layerRef="TOP"><Location x="4" y="6"/></Component>
      <LogicalNet name="A"><PinRef componentRef="R1" pin="1"/><PinRef componentRef="R9" pin="1"/></LogicalNet></Step>`;
    const board = boardOf(design(step, { more }));
    expect(componentOf(board, 'R1')).toMatchObject({
      value: '4k7',
      partNumber: 'ZR-1',
      maker: 'Quistle',
      description: 'resistor',
      fitted: true,
    });
    expect(componentOf(board, 'R2')).toMatchObject({ fitted: false });
    expect(cautionsOf(design(step, { more }))).toEqual([
      'file:5 quantity: says 3 and lists 2 designators — look which is right; the designators count here',
      'file:11: nets name 1 component that the file does not place: R9 — look whether they are on the board',
    ]);
  });

  test('nets may stand with the pads of layers alone', () => {
    const text =
      design(`<Step name="band">${PROFILE}<Component refDes="R1" layerRef="TOP"><Location x="4" y="5"/></Component>
      <LayerFeature layerRef="TOP"><Set net="A"><Pad><Location x="1" y="1"/><PinRef componentRef="R1" pin="1"/></Pad><Features><UserSpecial><Line startX="0"/></UserSpecial></Features></Set></LayerFeature></Step>`);
    expect(componentOf(boardOf(text), 'R1').pins).toEqual([{ number: '1', net: 'A' }]);
    expect(reading(text).understood).toContain('nets are read from the pads of its layers');
  });

  test.each([
    [
      '<?xml version="1.0"?>\n<IPC-2581 revision="B"><Content>',
      /^file:2: is not well-formed XML: .*unclosed tag/u,
    ],
    [
      '<IPC-2581 revision="B"><Content>&boom;</Content></IPC-2581>',
      /^file:1: is not well-formed XML: undefined entity/u,
    ],
    [
      '<!DOCTYPE x [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]><IPC-2581 revision="B">&b;</IPC-2581>',
      /^file:1: is not well-formed XML: undefined entity/u,
    ],
    [
      design('<Step name="a"/>', { units: 'FURLONG' }),
      /^file:5: "FURLONG" is not a unit of IPC-2581 — set units of CadHeader to/u,
    ],
    [design('<Step name="a"/>'), /^file:2: holds neither components nor a bill of materials/u],
    [`<IPC-2581>${'<a>'.repeat(100)}`, /^file:1: has more than 60 elements in elements/u],
    [
      design(
        `<Step name="a">${PROFILE}<Component refDes="R1"><Location x="four" y="5"/></Component><LogicalNet name="A"><PinRef componentRef="R1" pin="1"/></LogicalNet></Step>`,
      ),
      /^file:7 x: "four" is not a number — export it again$/u,
    ],
  ])('%s', (text, problem) => {
    expect(problemsOf(text)).toEqual([expect.stringMatching(problem)]);
  });
});
