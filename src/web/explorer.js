// Mounts the GraphQL explorer. The question may come in the address: /explorer?query=…&variables=…
const asked = new URLSearchParams(location.search);
const first = `# Which devices are there, and how many sensors of each kind do they have?
{
  devices(first: 5, orderBy: { field: RELEASED, direction: DESC }) {
    totalCount
    nodes {
      name
      released
      maker { name }
      kindCounts(above: "Sensor") { kind verdict certain expected }
    }
  }
}
`;

ReactDOM.createRoot(document.getElementById('explorer')).render(
  React.createElement(GraphiQL, {
    fetcher: GraphiQL.createFetcher({ url: '/graphql' }),
    query: asked.get('query') ?? undefined,
    variables: asked.get('variables') ?? undefined,
    defaultQuery: first,
    defaultEditorToolsVisibility: 'variables',
    shouldPersistHeaders: false,
  }),
);
