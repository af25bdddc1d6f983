import { type Html, html } from '../html/html.ts';

/** The page of the explorer. All its files come from this service, so that it works without a network. */
export function explorerPage(): Html {
  return html`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Explorer · Caseback</title>
<link rel="icon" href="/assets/icon.svg" type="image/svg+xml">
<link rel="stylesheet" href="/assets/graphiql.css">
<link rel="stylesheet" href="/assets/explorer.css">
</head>
<body>
<header class="bar"><a href="/">Caseback</a> <span>Explorer: write a question, press Ctrl+Enter; Ctrl+Space completes</span></header>
<div id="explorer">The explorer needs JavaScript. Questions can also be sent to <code>/graphql</code> or asked on the command line.</div>
<script src="/assets/react.js" defer></script>
<script src="/assets/react-dom.js" defer></script>
<script src="/assets/graphiql.js" defer></script>
<script src="/assets/explorer.js" defer></script>
</body>
</html>
`;
}
