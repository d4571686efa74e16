// Which file may import which. Written over all folders at once: a new feature is covered without an edit.

const feature = '(plant|specifications|production|inspections|signals|incidents|knowledge|studies|traces|users|ingest|workbench|can-codes|holds|records|feeds|outgoing|monitors)';
const generated = '^apps/api/src/platform/generated/';
const tests = '\\.spec\\.tsx?$';

/** @type {import('dependency-cruiser').IConfiguration} */
module.exports = {
  forbidden: [
    { name: 'no-cycles', comment: 'A cycle has no first file to read.', severity: 'error', from: { pathNot: generated }, to: { circular: true, pathNot: generated } },
    { name: 'resolvable', comment: 'Every import leads to a file or an installed package.', severity: 'error', from: { pathNot: generated }, to: { couldNotResolve: true } },
    { name: 'declared-packages', comment: 'What is imported stands in package.json.', severity: 'error', from: { path: '^(apps|libs)/', pathNot: generated }, to: { dependencyTypes: ['npm-no-pkg', 'npm-unknown'], dependencyTypesNot: ['type-only'] } },
    { name: 'numbers-are-pure', comment: 'statistics and canmaking know no database, clock, screen or package.', severity: 'error', from: { path: '^libs/(statistics|canmaking)/', pathNot: tests }, to: { pathNot: '^libs/$1/' } },
    { name: 'tracing-is-pure', comment: 'It brings numbers and trade together, and knows no database, clock, screen or package.', severity: 'error', from: { path: '^libs/tracing/', pathNot: tests }, to: { pathNot: '^libs/(tracing|statistics|canmaking)/' } },
    { name: 'contract-knows-zod-only', severity: 'error', from: { path: '^libs/contract/', pathNot: tests }, to: { pathNot: '^libs/contract/|^node_modules/zod/' } },
    { name: 'libs-know-no-app', severity: 'error', from: { path: '^libs/' }, to: { path: '^apps/' } },
    { name: 'api-features-are-strangers', comment: 'Flows compose features.', severity: 'error', from: { path: `^apps/api/src/${feature}/`, pathNot: tests }, to: { path: `^apps/api/src/${feature}/`, pathNot: '^apps/api/src/$1/' } },
    { name: 'web-features-are-strangers', comment: 'app composes features; they share shared/.', severity: 'error', from: { path: `^apps/web/src/${feature}/`, pathNot: tests }, to: { path: `^apps/web/src/${feature}/`, pathNot: '^apps/web/src/$1/' } },
    { name: 'shared-knows-no-feature', severity: 'error', from: { path: '^apps/web/src/shared/' }, to: { path: '^apps/web/src/(?!shared/)' } },
    { name: 'platform-knows-no-feature', severity: 'error', from: { path: '^apps/api/src/platform/' }, to: { path: '^apps/api/src/(?!platform/)' } },
    { name: 'flows-are-the-top', comment: 'Only ingest, the module file, the start and the commands beside it import flows.', severity: 'error', from: { path: '^apps/api/src/', pathNot: '^apps/api/src/(flows|ingest)/|^apps/api/src/(app|main|app\\.module|verify-audit|verify-pack|import-everything)\\.ts$' }, to: { path: '^apps/api/src/flows/' } },
    { name: 'web-app-is-the-top', severity: 'error', from: { path: '^apps/web/src/(?!app/)' }, to: { path: '^apps/web/src/app/' } },
    { name: 'prisma-in-stores-only', comment: 'The generated client is for stores and the platform; main asks once whether the database answers.', severity: 'error', from: { path: '^apps/', pathNot: '\\.store\\.ts$|^apps/api/src/platform/|^apps/api/src/main\\.ts$' }, to: { path: `${generated}|^node_modules/(@prisma|\\.prisma|pg)/` } },
    { name: 'nest-in-doors-only', comment: 'Flows and stores are plain functions.', severity: 'error', from: { path: '^apps/', pathNot: '\\.(controller|module|guard|filter|pipe|worker)\\.ts$|^apps/api/src/platform/|^apps/api/src/(app|main|app\\.module|verify-audit|verify-pack|import-everything)\\.ts$' }, to: { path: '^node_modules/@nestjs/' } },
    { name: 'api-and-web-are-strangers', severity: 'error', from: { path: '^apps/(api|web)/' }, to: { path: '^apps/(api|web)/', pathNot: '^apps/$1/' } },
    { name: 'demo-stores-are-for-the-demo', comment: 'They fill the empty tables of every feature at once, so nobody else may use them.', severity: 'error', from: { pathNot: '^apps/api/src/flows/(demo/|load-demo-plant\\.ts$)' }, to: { path: '^apps/api/src/flows/demo/[^/]+\\.store\\.ts$' } },
    { name: 'no-server-packages-in-the-web', severity: 'error', from: { path: '^apps/web/src/' }, to: { dependencyTypes: ['core'] } },
    { name: 'nothing-needs-tests', comment: 'What ships does not import test or seed specs.', severity: 'error', from: { path: '^(apps|libs)/', pathNot: tests }, to: { path: `^test/|${tests}` } },
  ],
  options: {
    doNotFollow: { path: 'node_modules|/generated/' },
    exclude: { path: '^(dist|data)/|^apps/(web|api)/dist/' },
    tsPreCompilationDeps: true,
    enhancedResolveOptions: { exportsFields: ['exports'], conditionNames: ['source', 'import', 'node', 'default', 'types'], extensions: ['.ts', '.tsx', '.js', '.mjs', '.cjs', '.json', '.css'], mainFields: ['module', 'main', 'types'] },
  },
};
