const PATTERN = 'MATCH (s:Sensor)-[:CONNECTS]-(a:AnalogFrontEnd|Amplifier) RETURN s, a';

/** The three questions of the start page, in words and as a client would send them. */
export const QUESTIONS = {
  pattern: {
    heading: 'Which devices share a pattern?',
    words:
      'Here: a sensor whose signal goes straight to an amplifier or an analogue front end. A pattern is written in a read-only subset of GQL (ISO/IEC 39075).',
    text: PATTERN,
    query: `{
  findPattern(text: ${JSON.stringify(PATTERN)}) {
    totalCount
    certainCount
    expectedCount
    nodes {
      device { name released }
      certain
      probability
      matches(first: 3) { probability bindings { variable ids } }
    }
  }
}`,
  },
  line: {
    heading: 'How did a product line change?',
    words: 'Here: sensors of each kind over the generations of one line.',
    query: (productLine: string) => `{
  generations(productLine: ${JSON.stringify(productLine)}) {
    generations { number device { name released } }
    comparison { sensors { kind meaning counts { certain expected possible } } }
  }
}`,
  },
  share: {
    heading: 'What figure can go into a trend publication?',
    words: 'Here: the share of devices with a pressure sensor, by year of release.',
    category: 'PressureSensor',
    query: `{
  released2023: devices(filter: { releasedFrom: "2023", releasedTo: "2023" }) { totalCount }
  withPressureSensor: devices(
    filter: { releasedFrom: "2023", releasedTo: "2023", holdsCategory: "PressureSensor" }
  ) {
    totalCount
    nodes { name components(category: "PressureSensor") { nodes { id category { probability } } } }
  }
}`,
  },
} as const;
