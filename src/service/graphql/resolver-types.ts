// Written by "npm run generate" from schema/api; do not edit.
import type { GraphQLResolveInfo, GraphQLScalarType, GraphQLScalarTypeConfig } from 'graphql';
import type { Root, Context } from './context.ts';
import type { QuantitySource } from './scalars.ts';
import type { DeviceSource, MakerSource, ProductLineSource, PartSource, PublicationSource, ClaimSource, SourceSource, PatternSource, FeedSource, ListMappingSource, DecisionSource } from './sources.ts';
import type { ComponentSource, IdentificationSource, CandidateSource } from './component-sources.ts';
import type { SpecimenSource, TeardownSource, TeardownStepSource, BoardSource, SubsystemSource, PhysicalLinkSource, NetSource, NetPinSource, PowerFeedSource, SignalPathSource, SharedBusSource, PinSource, ObservationSource, PhotoSource, PhotoRegionSource, PictureSource } from './specimens/sources.ts';
import type { ComparisonSource } from './comparison/comparison.ts';
import type { GenerationsSource, GenerationSource, GenerationStepSource } from './comparison/generations.ts';
import type { SimilarDeviceSource, DeviceClusterSource, CircuitDistanceSource } from './comparison/similarity.ts';
import type { CandidatesSource, DisagreementSource, PossiblePartSource, CandidateSetSource, MarkingReadingSource } from './identification/identification.ts';
import type { PhotoReadingSource, OtherPhotoReadingSource, CandidatesIfConfirmedSource, PartIfConfirmedSource } from './identification/photo-reading.ts';
import type { PatternDeviceSource, PatternDeviceConnectionSource, PatternMatchSource, PatternNearMatchSource, PatternBindingSource } from './patterns/patterns.ts';
import type { TrendSource } from './trends/trends.ts';
import type { ChartSource } from './charts/charts.ts';
import type { PackSource } from './packs/packs.ts';
import type { ExportFileSource } from './exports/exports.ts';
import type { StructureSource } from './structures/structures.ts';
import type { ClaimPhotoSource, ImpactSource, DifferenceSource, CorrectionSource } from './evidence/evidence.ts';
import type { ArchiveDifferenceSource } from './history/history.ts';
export type Maybe<T> = T | null | undefined;
export type InputMaybe<T> = T | null | undefined;
export type Omit<T, K extends keyof T> = Pick<T, Exclude<keyof T, K>>;
export type RequireFields<T, K extends keyof T> = Omit<T, K> & { [P in K]-?: NonNullable<T[P]> };
/** All built-in and custom scalars, mapped to their actual values */
export type Scalars = {
  ID: { input: string; output: string; }
  String: { input: string; output: string; }
  Boolean: { input: boolean; output: boolean; }
  Int: { input: number; output: number; }
  Float: { input: number; output: number; }
  PartialDate: { input: string; output: string; }
  DateTime: { input: string; output: string; }
  Json: { input: unknown; output: unknown; }
  PatternValue: { input: unknown; output: unknown; }
};

export type Node = {
  readonly id: Scalars['ID']['output'];
};

export type Query = {
  readonly node?: Maybe<Node>;
  readonly archive?: Maybe<Archive>;
  readonly search?: Maybe<SearchHitConnection>;
  readonly taxonomy?: Maybe<ReadonlyArray<Term>>;
  readonly asOf?: Maybe<Query>;
  readonly compareDevices?: Maybe<Comparison>;
  readonly components?: Maybe<ComponentConnection>;
  readonly decision?: Maybe<Decision>;
  readonly decisions?: Maybe<DecisionConnection>;
  readonly designChecks?: Maybe<ReadonlyArray<DesignCheck>>;
  readonly calculate?: Maybe<CheckResult>;
  readonly patternCheck?: Maybe<BoundCheck>;
  readonly deviceChecks?: Maybe<ReadonlyArray<BoundCheck>>;
  readonly device?: Maybe<Device>;
  readonly devices?: Maybe<DeviceConnection>;
  readonly boardsSideBySide?: Maybe<Drawing>;
  readonly auditClaims?: Maybe<AuditedClaimConnection>;
  readonly impactOf?: Maybe<Impact>;
  readonly whatIf?: Maybe<Difference>;
  readonly corrections?: Maybe<CorrectionConnection>;
  readonly exports?: Maybe<ReadonlyArray<Export>>;
  readonly feed?: Maybe<Feed>;
  readonly feeds?: Maybe<FeedConnection>;
  readonly generations?: Maybe<Generations>;
  readonly history?: Maybe<HistoryEntryConnection>;
  readonly difference?: Maybe<ArchiveDifference>;
  readonly candidates?: Maybe<Candidates>;
  readonly nextObservations?: Maybe<ReadonlyArray<NextObservation>>;
  readonly readMarking?: Maybe<MarkingReading>;
  readonly readPhoto?: Maybe<PhotoReading>;
  readonly calibration?: Maybe<Calibration>;
  readonly disagreements?: Maybe<DisagreementConnection>;
  readonly linkedData?: Maybe<Scalars['Json']['output']>;
  readonly listMapping?: Maybe<ListMapping>;
  readonly listMappings?: Maybe<ListMappingConnection>;
  readonly maker?: Maybe<Maker>;
  readonly makers?: Maybe<MakerConnection>;
  readonly productLine?: Maybe<ProductLine>;
  readonly productLines?: Maybe<ProductLineConnection>;
  readonly measure?: Maybe<PhotoMeasurement>;
  readonly part?: Maybe<Part>;
  readonly parts?: Maybe<PartConnection>;
  readonly patternRows?: Maybe<PatternRows>;
  readonly explainPattern?: Maybe<Scalars['String']['output']>;
  readonly patternSql?: Maybe<Scalars['String']['output']>;
  readonly findPattern?: Maybe<PatternDeviceConnection>;
  readonly pattern?: Maybe<Pattern>;
  readonly patterns?: Maybe<PatternConnection>;
  readonly me: Asker;
  readonly people?: Maybe<PersonConnection>;
  readonly publication?: Maybe<Publication>;
  readonly publications?: Maybe<PublicationConnection>;
  readonly source?: Maybe<Source>;
  readonly similarDevices?: Maybe<SimilarDevices>;
  readonly deviceClusters?: Maybe<DeviceClusters>;
  readonly circuitDistance?: Maybe<CircuitDistance>;
  readonly specimen?: Maybe<Specimen>;
  readonly structures?: Maybe<Structures>;
  readonly trend?: Maybe<Trend>;
  readonly trends?: Maybe<ReadonlyArray<Trend>>;
  readonly webhooks?: Maybe<WebhookConnection>;
};


export type QueryNodeArgs = {
  id: Scalars['ID']['input'];
};


export type QuerySearchArgs = {
  text: Scalars['String']['input'];
  kinds?: InputMaybe<ReadonlyArray<SearchKind>>;
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type QueryTaxonomyArgs = {
  under?: InputMaybe<Scalars['String']['input']>;
};


export type QueryAsOfArgs = {
  instant: Scalars['DateTime']['input'];
};


export type QueryCompareDevicesArgs = {
  ids: ReadonlyArray<Scalars['ID']['input']>;
};


export type QueryComponentsArgs = {
  filter?: InputMaybe<ComponentFilter>;
  orderBy: ComponentOrder;
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type QueryDecisionArgs = {
  id: Scalars['ID']['input'];
};


export type QueryDecisionsArgs = {
  device?: InputMaybe<Scalars['ID']['input']>;
  pattern?: InputMaybe<Scalars['ID']['input']>;
  minimumProbability: Scalars['Float']['input'];
  includeRejected: Scalars['Boolean']['input'];
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type QueryCalculateArgs = {
  check: Scalars['String']['input'];
  inputs: ReadonlyArray<CheckInputValue>;
};


export type QueryPatternCheckArgs = {
  pattern: Scalars['ID']['input'];
  device: Scalars['ID']['input'];
  given: ReadonlyArray<CheckInputValue>;
};


export type QueryDeviceChecksArgs = {
  device: Scalars['ID']['input'];
  check?: InputMaybe<Scalars['String']['input']>;
  given: ReadonlyArray<CheckInputValue>;
};


export type QueryDeviceArgs = {
  id: Scalars['ID']['input'];
};


export type QueryDevicesArgs = {
  filter?: InputMaybe<DeviceFilter>;
  orderBy: DeviceOrder;
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type QueryBoardsSideBySideArgs = {
  ids: ReadonlyArray<Scalars['ID']['input']>;
  side?: InputMaybe<Side>;
  width?: InputMaybe<Scalars['Float']['input']>;
};


export type QueryAuditClaimsArgs = {
  publication?: InputMaybe<Scalars['ID']['input']>;
  includeFitting: Scalars['Boolean']['input'];
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type QueryImpactOfArgs = {
  id: Scalars['ID']['input'];
};


export type QueryWhatIfArgs = {
  change: AmendmentInput;
};


export type QueryCorrectionsArgs = {
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type QueryExportsArgs = {
  of?: InputMaybe<Scalars['ID']['input']>;
};


export type QueryFeedArgs = {
  id: Scalars['ID']['input'];
};


export type QueryFeedsArgs = {
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type QueryGenerationsArgs = {
  productLine: Scalars['ID']['input'];
};


export type QueryHistoryArgs = {
  id: Scalars['ID']['input'];
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type QueryDifferenceArgs = {
  from: Scalars['DateTime']['input'];
  to?: InputMaybe<Scalars['DateTime']['input']>;
  of?: InputMaybe<Scalars['ID']['input']>;
};


export type QueryCandidatesArgs = {
  component: Scalars['ID']['input'];
};


export type QueryNextObservationsArgs = {
  of: Scalars['ID']['input'];
  first: Scalars['Int']['input'];
  includeDestructive: Scalars['Boolean']['input'];
};


export type QueryReadMarkingArgs = {
  text: Scalars['String']['input'];
  released?: InputMaybe<Scalars['PartialDate']['input']>;
};


export type QueryReadPhotoArgs = {
  of: Scalars['ID']['input'];
  photo?: InputMaybe<Scalars['ID']['input']>;
  region?: InputMaybe<ReadonlyArray<Scalars['Float']['input']>>;
  turned?: InputMaybe<Scalars['Float']['input']>;
};


export type QueryCalibrationArgs = {
  sample?: InputMaybe<Scalars['Int']['input']>;
  seed: Scalars['Int']['input'];
};


export type QueryDisagreementsArgs = {
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type QueryLinkedDataArgs = {
  id: Scalars['ID']['input'];
  base?: InputMaybe<Scalars['String']['input']>;
};


export type QueryListMappingArgs = {
  id: Scalars['ID']['input'];
};


export type QueryListMappingsArgs = {
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type QueryMakerArgs = {
  id: Scalars['ID']['input'];
};


export type QueryMakersArgs = {
  makes?: InputMaybe<Makes>;
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type QueryProductLineArgs = {
  id: Scalars['ID']['input'];
};


export type QueryProductLinesArgs = {
  maker?: InputMaybe<Scalars['ID']['input']>;
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type QueryMeasureArgs = {
  photo?: InputMaybe<Scalars['ID']['input']>;
  size?: InputMaybe<PictureSizeInput>;
  points?: InputMaybe<ReadonlyArray<PhotoPointInput>>;
  side?: InputMaybe<Side>;
  picked: Scalars['Float']['input'];
  cameraDistance?: InputMaybe<Scalars['Float']['input']>;
  places: ReadonlyArray<PhotoSpotInput>;
  lengths: ReadonlyArray<PhotoLengthInput>;
  bodies: ReadonlyArray<PhotoBodyInput>;
};


export type QueryPartArgs = {
  id: Scalars['ID']['input'];
};


export type QueryPartsArgs = {
  filter?: InputMaybe<PartFilter>;
  orderBy: PartOrder;
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type QueryPatternRowsArgs = {
  text: Scalars['String']['input'];
  distinctNodes: Scalars['Boolean']['input'];
};


export type QueryExplainPatternArgs = {
  text: Scalars['String']['input'];
  distinctNodes: Scalars['Boolean']['input'];
};


export type QueryPatternSqlArgs = {
  text: Scalars['String']['input'];
  distinctNodes: Scalars['Boolean']['input'];
  dialect: SqlDialect;
};


export type QueryFindPatternArgs = {
  text?: InputMaybe<Scalars['String']['input']>;
  id?: InputMaybe<Scalars['ID']['input']>;
  distinctNodes: Scalars['Boolean']['input'];
  filter?: InputMaybe<DeviceFilter>;
  acrossDevices?: InputMaybe<Scalars['Boolean']['input']>;
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type QueryPatternArgs = {
  id: Scalars['ID']['input'];
};


export type QueryPatternsArgs = {
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type QueryPeopleArgs = {
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type QueryPublicationArgs = {
  id: Scalars['ID']['input'];
};


export type QueryPublicationsArgs = {
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type QuerySourceArgs = {
  id: Scalars['ID']['input'];
};


export type QuerySimilarDevicesArgs = {
  id: Scalars['ID']['input'];
  first: Scalars['Int']['input'];
  iterations: Scalars['Int']['input'];
};


export type QueryDeviceClustersArgs = {
  filter?: InputMaybe<DeviceFilter>;
  iterations: Scalars['Int']['input'];
  resolution: Scalars['Float']['input'];
  seed: Scalars['Int']['input'];
};


export type QueryCircuitDistanceArgs = {
  from: Scalars['ID']['input'];
  to: Scalars['ID']['input'];
  subsystem?: InputMaybe<SubsystemKind>;
};


export type QuerySpecimenArgs = {
  id: Scalars['ID']['input'];
};


export type QueryStructuresArgs = {
  minSupport?: InputMaybe<Scalars['Int']['input']>;
  minSize: Scalars['Int']['input'];
  maxSize: Scalars['Int']['input'];
  level?: InputMaybe<Scalars['Int']['input']>;
  without: ReadonlyArray<Scalars['String']['input']>;
  relations?: InputMaybe<ReadonlyArray<StructureRelation>>;
  links: StructureLinkKind;
  distinguishBoards: Scalars['Boolean']['input'];
  order: StructureOrder;
  includeVariants: Scalars['Boolean']['input'];
  onlyUnnamed: Scalars['Boolean']['input'];
  first: Scalars['Int']['input'];
};


export type QueryTrendArgs = {
  of: TrendMeasure;
  per: TrendPeriodLength;
  by?: InputMaybe<TrendFacet>;
  edges?: InputMaybe<ReadonlyArray<Scalars['Float']['input']>>;
  currency?: InputMaybe<Scalars['String']['input']>;
  filter?: InputMaybe<DeviceFilter>;
};


export type QueryTrendsArgs = {
  questions: ReadonlyArray<TrendQuestion>;
};


export type QueryWebhooksArgs = {
  feed?: InputMaybe<Scalars['ID']['input']>;
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};

export type Archive = {
  readonly devices: Scalars['Int']['output'];
  readonly specimens: Scalars['Int']['output'];
  readonly components: Scalars['Int']['output'];
  readonly parts: Scalars['Int']['output'];
  readonly makers: Scalars['Int']['output'];
  readonly productLines: Scalars['Int']['output'];
  readonly publications: Scalars['Int']['output'];
  readonly patterns: Scalars['Int']['output'];
  readonly firstYear?: Maybe<Scalars['Int']['output']>;
  readonly lastYear?: Maybe<Scalars['Int']['output']>;
  readonly inventedDevices: Scalars['Int']['output'];
  readonly citation: Scalars['Json']['output'];
  readonly sequence?: Maybe<Scalars['Int']['output']>;
  readonly treeHead?: Maybe<Scalars['String']['output']>;
  readonly changedAt?: Maybe<Scalars['DateTime']['output']>;
};

export type SearchKind =
  | 'DEVICE'
  | 'MAKER'
  | 'PRODUCT_LINE'
  | 'PART'
  | 'PUBLICATION'
  | 'COMPONENT'
  | 'OBSERVATION';

export type SearchHit = {
  readonly id: Scalars['ID']['output'];
  readonly kind: SearchKind;
  readonly title: Scalars['String']['output'];
  readonly node?: Maybe<Node>;
};

export type Term = {
  readonly name: Scalars['String']['output'];
  readonly meaning: Scalars['String']['output'];
  readonly parent?: Maybe<Scalars['String']['output']>;
  readonly above: ReadonlyArray<Scalars['String']['output']>;
  readonly below: ReadonlyArray<Scalars['String']['output']>;
};

export type SearchHitConnection = {
  readonly edges: ReadonlyArray<SearchHitEdge>;
  readonly nodes: ReadonlyArray<SearchHit>;
  readonly pageInfo: PageInfo;
  readonly totalCount: Scalars['Int']['output'];
  readonly isComplete: Scalars['Boolean']['output'];
};

export type SearchHitEdge = {
  readonly cursor: Scalars['String']['output'];
  readonly node: SearchHit;
};

export type FileInput = {
  readonly name: Scalars['String']['input'];
  readonly text: Scalars['String']['input'];
};

export type ObservationInput = {
  readonly id: Scalars['String']['input'];
  readonly about: ReadonlyArray<Scalars['String']['input']>;
  readonly kind: ObservationKind;
  readonly text?: InputMaybe<Scalars['String']['input']>;
  readonly marking?: InputMaybe<Scalars['String']['input']>;
  readonly value?: InputMaybe<QuantityInput>;
  readonly leadsTo?: InputMaybe<ReadonlyArray<Scalars['String']['input']>>;
  readonly photo?: InputMaybe<Scalars['String']['input']>;
  readonly suggestion?: InputMaybe<MarkingSuggestionInput>;
  readonly method?: InputMaybe<Scalars['String']['input']>;
  readonly on?: InputMaybe<Scalars['PartialDate']['input']>;
  readonly by?: InputMaybe<Scalars['String']['input']>;
  readonly corrects?: InputMaybe<Scalars['String']['input']>;
  readonly cites?: InputMaybe<ReadonlyArray<Scalars['ID']['input']>>;
  readonly note?: InputMaybe<Scalars['String']['input']>;
};

export type MarkingSuggestionInput = {
  readonly by: Scalars['String']['input'];
  readonly marking: Scalars['String']['input'];
  readonly region?: InputMaybe<Scalars['String']['input']>;
  readonly turned?: InputMaybe<Scalars['Float']['input']>;
};

export type IdentificationInput = {
  readonly cites?: InputMaybe<ReadonlyArray<Scalars['ID']['input']>>;
  readonly component: Scalars['String']['input'];
  readonly candidates: ReadonlyArray<CandidateInput>;
  readonly state: IdentificationState;
  readonly basis: ReadonlyArray<Scalars['String']['input']>;
  readonly by?: InputMaybe<Scalars['String']['input']>;
  readonly on?: InputMaybe<Scalars['PartialDate']['input']>;
  readonly reason?: InputMaybe<Scalars['String']['input']>;
  readonly visibility?: InputMaybe<Visibility>;
  readonly embargoUntil?: InputMaybe<Scalars['DateTime']['input']>;
};

export type CandidateInput = {
  readonly part?: InputMaybe<Scalars['ID']['input']>;
  readonly category?: InputMaybe<Scalars['String']['input']>;
  readonly maker?: InputMaybe<Scalars['ID']['input']>;
  readonly probability: Scalars['Float']['input'];
};

export type EntryKind =
  | 'RECORD_PUT'
  | 'DOSSIER_PUT'
  | 'OBSERVATION_RECORDED'
  | 'OBSERVATION_WITHDRAWN'
  | 'IDENTIFICATION_SET'
  | 'IDENTIFICATION_JUDGED'
  | 'DECISION_JUDGED'
  | 'CORRECTION_MADE'
  | 'CLOCK_CORRECTED'
  | 'PHOTO_KEPT'
  | 'PHOTO_RECORDED'
  | 'RECALLED';

export type JournalEntry = {
  readonly sequence: Scalars['Int']['output'];
  readonly id: Scalars['ID']['output'];
  readonly instant: Scalars['DateTime']['output'];
  readonly actor: Scalars['String']['output'];
  readonly reason: Scalars['String']['output'];
  readonly kind: EntryKind;
  readonly hash: Scalars['String']['output'];
};

export type ChangeCaution = {
  readonly file?: Maybe<Scalars['String']['output']>;
  readonly line?: Maybe<Scalars['Int']['output']>;
  readonly column?: Maybe<Scalars['Int']['output']>;
  readonly path?: Maybe<Scalars['String']['output']>;
  readonly what: Scalars['String']['output'];
  readonly fix?: Maybe<Scalars['String']['output']>;
};

export type ImportDossierPayload = {
  readonly entries: Scalars['Int']['output'];
  readonly records: Scalars['Int']['output'];
  readonly dossiers: Scalars['Int']['output'];
  readonly photos: Scalars['Int']['output'];
  readonly specimens: ReadonlyArray<Specimen>;
  readonly entry?: Maybe<JournalEntry>;
  readonly readers: ReadersDifference;
  readonly cautions: ReadonlyArray<ChangeCaution>;
};

export type ReadersDifference = {
  readonly addedCount: Scalars['Int']['output'];
  readonly added: ReadonlyArray<Scalars['ID']['output']>;
  readonly changedCount: Scalars['Int']['output'];
  readonly changed: ReadonlyArray<Scalars['ID']['output']>;
  readonly goneCount: Scalars['Int']['output'];
  readonly gone: ReadonlyArray<Scalars['ID']['output']>;
};

export type RecallPayload = {
  readonly ids: ReadonlyArray<Scalars['ID']['output']>;
  readonly readers: ReadersDifference;
  readonly entry: JournalEntry;
};

export type RecordObservationPayload = {
  readonly observation?: Maybe<Observation>;
  readonly entry: JournalEntry;
  readonly cautions: ReadonlyArray<ChangeCaution>;
};

export type SetIdentificationPayload = {
  readonly component?: Maybe<Component>;
  readonly entry: JournalEntry;
  readonly cautions: ReadonlyArray<ChangeCaution>;
};

export type Mutation = {
  readonly importDossier?: Maybe<ImportDossierPayload>;
  readonly recall?: Maybe<RecallPayload>;
  readonly recordObservation?: Maybe<RecordObservationPayload>;
  readonly setIdentification?: Maybe<SetIdentificationPayload>;
  readonly judgeDecision?: Maybe<JudgeDecisionPayload>;
  readonly correct?: Maybe<CorrectPayload>;
  readonly saveFeed?: Maybe<SaveFeedPayload>;
  readonly correctClock?: Maybe<CorrectClockPayload>;
  readonly judgeIdentification?: Maybe<JudgeIdentificationPayload>;
  readonly withdrawObservation?: Maybe<WithdrawObservationPayload>;
  readonly saveListMapping?: Maybe<SaveListMappingPayload>;
  readonly disablePerson?: Maybe<DisablePersonPayload>;
  readonly revokeToken?: Maybe<RevokeTokenPayload>;
  readonly addPhoto?: Maybe<AddPhotoPayload>;
  readonly changePhoto?: Maybe<ChangePhotoPayload>;
  readonly recordMeasurement?: Maybe<RecordMeasurementPayload>;
  readonly savePattern?: Maybe<SavePatternPayload>;
  readonly importTradeFiles?: Maybe<ImportTradeFilesPayload>;
  readonly registerWebhook?: Maybe<RegisterWebhookPayload>;
  readonly rotateWebhookSecret?: Maybe<RotateWebhookSecretPayload>;
  readonly resumeWebhook?: Maybe<ResumeWebhookPayload>;
  readonly testWebhook?: Maybe<TestWebhookPayload>;
  readonly removeWebhook?: Maybe<RemoveWebhookPayload>;
};


export type MutationImportDossierArgs = {
  input: ImportDossierInput;
};


export type MutationRecallArgs = {
  input: RecallInput;
};


export type MutationRecordObservationArgs = {
  input: RecordObservationInput;
};


export type MutationSetIdentificationArgs = {
  input: SetIdentificationInput;
};


export type MutationJudgeDecisionArgs = {
  input: JudgeDecisionInput;
};


export type MutationCorrectArgs = {
  input: CorrectInput;
};


export type MutationSaveFeedArgs = {
  input: SaveFeedInput;
};


export type MutationCorrectClockArgs = {
  input: CorrectClockInput;
};


export type MutationJudgeIdentificationArgs = {
  input: JudgeIdentificationInput;
};


export type MutationWithdrawObservationArgs = {
  input: WithdrawObservationInput;
};


export type MutationSaveListMappingArgs = {
  input: SaveListMappingInput;
};


export type MutationDisablePersonArgs = {
  input: DisablePersonInput;
};


export type MutationRevokeTokenArgs = {
  input: RevokeTokenInput;
};


export type MutationAddPhotoArgs = {
  input: AddPhotoInput;
};


export type MutationChangePhotoArgs = {
  input: ChangePhotoInput;
};


export type MutationRecordMeasurementArgs = {
  input: RecordMeasurementInput;
};


export type MutationSavePatternArgs = {
  input: SavePatternInput;
};


export type MutationImportTradeFilesArgs = {
  input: ImportTradeFilesInput;
};


export type MutationRegisterWebhookArgs = {
  input: RegisterWebhookInput;
};


export type MutationRotateWebhookSecretArgs = {
  input: RotateWebhookSecretInput;
};


export type MutationResumeWebhookArgs = {
  input: ResumeWebhookInput;
};


export type MutationTestWebhookArgs = {
  input: TestWebhookInput;
};


export type MutationRemoveWebhookArgs = {
  input: RemoveWebhookInput;
};

export type ImportDossierInput = {
  readonly files: ReadonlyArray<FileInput>;
  readonly actor?: InputMaybe<Scalars['String']['input']>;
  readonly reason: Scalars['String']['input'];
};

export type RecallInput = {
  readonly id: Scalars['ID']['input'];
  readonly actor?: InputMaybe<Scalars['String']['input']>;
  readonly reason: Scalars['String']['input'];
};

export type RecordObservationInput = {
  readonly specimen: Scalars['ID']['input'];
  readonly observation: ObservationInput;
  readonly actor?: InputMaybe<Scalars['String']['input']>;
  readonly reason: Scalars['String']['input'];
};

export type SetIdentificationInput = {
  readonly specimen: Scalars['ID']['input'];
  readonly identification: IdentificationInput;
  readonly actor?: InputMaybe<Scalars['String']['input']>;
  readonly reason: Scalars['String']['input'];
};

export type ChartSize =
  | 'PAGE'
  | 'COLUMN';

export type Chart = {
  readonly title: Scalars['String']['output'];
  readonly subtitle: Scalars['String']['output'];
  readonly n: Scalars['String']['output'];
  readonly description: Scalars['String']['output'];
  readonly columns: ReadonlyArray<Scalars['String']['output']>;
  readonly rows: ReadonlyArray<ReadonlyArray<Scalars['String']['output']>>;
  readonly cautions: ReadonlyArray<Scalars['String']['output']>;
  readonly vegaLite: Scalars['Json']['output'];
  readonly svg?: Maybe<Scalars['String']['output']>;
};

export type Quantity = {
  readonly value: Scalars['Float']['output'];
  readonly unit: Scalars['String']['output'];
  readonly plusMinus?: Maybe<Scalars['Float']['output']>;
  readonly text: Scalars['String']['output'];
  readonly in?: Maybe<Quantity>;
};


export type QuantityInArgs = {
  unit: Scalars['String']['input'];
};

export type Dimensions = {
  readonly length: Quantity;
  readonly width: Quantity;
  readonly height?: Maybe<Quantity>;
};

export type BodySize = {
  readonly length: Scalars['Float']['output'];
  readonly width: Scalars['Float']['output'];
  readonly height?: Maybe<Scalars['Float']['output']>;
};

export type Point = {
  readonly x: Scalars['Float']['output'];
  readonly y: Scalars['Float']['output'];
};

export type Money = {
  readonly amount: Scalars['Float']['output'];
  readonly currency: Scalars['String']['output'];
};

export type QuantityInput = {
  readonly value: Scalars['Float']['input'];
  readonly unit: Scalars['String']['input'];
  readonly plusMinus?: InputMaybe<Scalars['Float']['input']>;
};

export type PageInfo = {
  readonly hasNextPage: Scalars['Boolean']['output'];
  readonly hasPreviousPage: Scalars['Boolean']['output'];
  readonly startCursor?: Maybe<Scalars['String']['output']>;
  readonly endCursor?: Maybe<Scalars['String']['output']>;
};

export type Direction =
  | 'ASC'
  | 'DESC';

export type Comparison = {
  readonly columns: ReadonlyArray<ComparedDevice>;
  readonly sensors: ReadonlyArray<KindRow>;
  readonly processors: ReadonlyArray<KindRow>;
  readonly subsystems: ReadonlyArray<SubsystemRow>;
  readonly sections?: Maybe<ReadonlyArray<ComparisonSection>>;
  readonly alignment?: Maybe<Alignment>;
  readonly chart?: Maybe<Chart>;
};


export type ComparisonSectionsArgs = {
  keys?: InputMaybe<ReadonlyArray<ComparisonSectionKey>>;
};


export type ComparisonAlignmentArgs = {
  weights?: InputMaybe<AlignmentWeightsInput>;
};


export type ComparisonChartArgs = {
  sections: ReadonlyArray<ComparisonSectionKey>;
  size: ChartSize;
};

export type ComparedDevice = {
  readonly device: Device;
  readonly specimen: Specimen;
  readonly otherSpecimens: Scalars['Int']['output'];
};

export type KindRow = {
  readonly kind: Scalars['String']['output'];
  readonly meaning: Scalars['String']['output'];
  readonly counts: ReadonlyArray<KindCount>;
};

export type SubsystemRow = {
  readonly kind?: Maybe<SubsystemKind>;
  readonly components: ReadonlyArray<Maybe<Scalars['Int']['output']>>;
};

export type ComparisonSectionKey =
  | 'DEVICE'
  | 'SENSORS'
  | 'PROCESSORS'
  | 'RADIO'
  | 'MEMORY'
  | 'POWER'
  | 'BATTERY'
  | 'BOARDS'
  | 'MAKERS'
  | 'PARTS'
  | 'REUSE'
  | 'DECISIONS';

export type ComparisonSection = {
  readonly key: ComparisonSectionKey;
  readonly label: Scalars['String']['output'];
  readonly rows: ReadonlyArray<ComparisonRow>;
};

export type ComparisonRow = {
  readonly key: Scalars['String']['output'];
  readonly label: Scalars['String']['output'];
  readonly unit: Scalars['String']['output'];
  readonly meaning: Scalars['String']['output'];
  readonly presentIn?: Maybe<Scalars['Int']['output']>;
  readonly cells: ReadonlyArray<ComparisonCell>;
};

export type ComparisonCell = {
  readonly certain?: Maybe<Scalars['Float']['output']>;
  readonly expected?: Maybe<Scalars['Float']['output']>;
  readonly possible?: Maybe<Scalars['Float']['output']>;
  readonly missing?: Maybe<MissingFigure>;
  readonly note?: Maybe<Scalars['String']['output']>;
};

export type MissingFigure =
  | 'NOT_OBSERVED'
  | 'ABSENT';

export type Alignment = {
  readonly rows: ReadonlyArray<AlignmentRow>;
  readonly steps: ReadonlyArray<AlignmentStep>;
  readonly weights: ReadonlyArray<AlignmentWeight>;
};

export type AlignmentRow = {
  readonly role?: Maybe<Scalars['String']['output']>;
  readonly cells: ReadonlyArray<Maybe<AlignedComponent>>;
  readonly changes: ReadonlyArray<Maybe<ComponentChange>>;
};

export type AlignedComponent = {
  readonly component: Component;
  readonly part?: Maybe<Part>;
  readonly probability?: Maybe<Scalars['Float']['output']>;
};

export type ComponentChange = {
  readonly change: ComponentChangeKind;
  readonly certainty: Scalars['Float']['output'];
  readonly pairing: Scalars['Float']['output'];
  readonly samePart?: Maybe<Scalars['Float']['output']>;
  readonly isElsewhere: Scalars['Boolean']['output'];
  readonly reason: Scalars['String']['output'];
};

export type ComponentChangeKind =
  | 'KEPT'
  | 'REPLACED'
  | 'MOVED'
  | 'ADDED'
  | 'REMOVED'
  | 'NOT_OBSERVED';

export type AlignmentStep = {
  readonly from: Scalars['Int']['output'];
  readonly to: Scalars['Int']['output'];
  readonly tallies: ReadonlyArray<ChangeTally>;
};

export type ChangeTally = {
  readonly change: ComponentChangeKind;
  readonly rows: Scalars['Int']['output'];
  readonly certain: Scalars['Int']['output'];
  readonly expected: Scalars['Float']['output'];
};

export type AlignmentWeight = {
  readonly name: Scalars['String']['output'];
  readonly value: Scalars['Float']['output'];
  readonly meaning: Scalars['String']['output'];
};

export type AlignmentWeightsInput = {
  readonly labels?: InputMaybe<Scalars['Float']['input']>;
  readonly part?: InputMaybe<Scalars['Float']['input']>;
  readonly maker?: InputMaybe<Scalars['Float']['input']>;
  readonly subsystem?: InputMaybe<Scalars['Float']['input']>;
  readonly board?: InputMaybe<Scalars['Float']['input']>;
  readonly side?: InputMaybe<Scalars['Float']['input']>;
  readonly neighbourhood?: InputMaybe<Scalars['Float']['input']>;
  readonly position?: InputMaybe<Scalars['Float']['input']>;
  readonly designator?: InputMaybe<Scalars['Float']['input']>;
  readonly unmatched?: InputMaybe<Scalars['Float']['input']>;
  readonly role?: InputMaybe<Scalars['Float']['input']>;
  readonly margin?: InputMaybe<Scalars['Float']['input']>;
};

export type Component = Node & {
  readonly id: Scalars['ID']['output'];
  readonly designator: Scalars['String']['output'];
  readonly printed: Scalars['Boolean']['output'];
  readonly specimen: Specimen;
  readonly device?: Maybe<Device>;
  readonly board?: Maybe<Board>;
  readonly side?: Maybe<Side>;
  readonly at?: Maybe<Point>;
  readonly rotation?: Maybe<Scalars['Float']['output']>;
  readonly body?: Maybe<BodySize>;
  readonly package?: Maybe<Scalars['String']['output']>;
  readonly value?: Maybe<Scalars['String']['output']>;
  readonly fitted: Scalars['Boolean']['output'];
  readonly counted: Scalars['Boolean']['output'];
  readonly pins?: Maybe<Scalars['Int']['output']>;
  readonly pinout?: Maybe<ReadonlyArray<Pin>>;
  readonly marking?: Maybe<Scalars['String']['output']>;
  readonly reading?: Maybe<Scalars['Float']['output']>;
  readonly appears?: Maybe<Scalars['String']['output']>;
  readonly subsystem?: Maybe<Subsystem>;
  readonly inside?: Maybe<Component>;
  readonly holds: ReadonlyArray<Component>;
  readonly labels: ReadonlyArray<Label>;
  readonly category?: Maybe<Label>;
  readonly identification?: Maybe<Identification>;
  readonly identifications: ReadonlyArray<Identification>;
  readonly observations?: Maybe<ObservationConnection>;
  readonly links?: Maybe<PhysicalLinkConnection>;
  readonly note?: Maybe<Scalars['String']['output']>;
  readonly candidates?: Maybe<Candidates>;
};


export type ComponentObservationsArgs = {
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type ComponentLinksArgs = {
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};

export type Label = {
  readonly term: Scalars['String']['output'];
  readonly meaning: Scalars['String']['output'];
  readonly probability: Scalars['Float']['output'];
  readonly isCertain: Scalars['Boolean']['output'];
};

export type Identification = {
  readonly component?: Maybe<Component>;
  readonly state: IdentificationState;
  readonly isCurrent: Scalars['Boolean']['output'];
  readonly candidates: ReadonlyArray<Candidate>;
  readonly unknown: Scalars['Float']['output'];
  readonly basis: ReadonlyArray<Observation>;
  readonly cites: ReadonlyArray<Node>;
  readonly by?: Maybe<Scalars['String']['output']>;
  readonly on?: Maybe<Scalars['PartialDate']['output']>;
  readonly reason?: Maybe<Scalars['String']['output']>;
  readonly visibility?: Maybe<Visibility>;
  readonly embargoUntil?: Maybe<Scalars['DateTime']['output']>;
};

export type Candidate = {
  readonly part?: Maybe<Part>;
  readonly partId?: Maybe<Scalars['ID']['output']>;
  readonly category?: Maybe<Scalars['String']['output']>;
  readonly maker?: Maybe<Maker>;
  readonly probability: Scalars['Float']['output'];
};

export type ComponentFilter = {
  readonly device?: InputMaybe<DeviceFilter>;
  readonly devices?: InputMaybe<ReadonlyArray<Scalars['ID']['input']>>;
  readonly category?: InputMaybe<Scalars['String']['input']>;
  readonly categoryProbabilityAtLeast?: InputMaybe<Scalars['Float']['input']>;
  readonly part?: InputMaybe<Scalars['ID']['input']>;
  readonly partMaker?: InputMaybe<Scalars['ID']['input']>;
  readonly side?: InputMaybe<Side>;
  readonly package?: InputMaybe<Scalars['String']['input']>;
  readonly identified?: InputMaybe<Scalars['Boolean']['input']>;
  readonly counted?: InputMaybe<Scalars['Boolean']['input']>;
};

export type ComponentOrderField =
  | 'DEVICE'
  | 'RELEASED';

export type ComponentOrder = {
  readonly field: ComponentOrderField;
  readonly direction: Direction;
};

export type ComponentConnection = {
  readonly edges: ReadonlyArray<ComponentEdge>;
  readonly nodes: ReadonlyArray<Component>;
  readonly pageInfo: PageInfo;
  readonly totalCount: Scalars['Int']['output'];
};

export type ComponentEdge = {
  readonly cursor: Scalars['String']['output'];
  readonly node: Component;
};

export type IdentificationConnection = {
  readonly edges: ReadonlyArray<IdentificationEdge>;
  readonly nodes: ReadonlyArray<Identification>;
  readonly pageInfo: PageInfo;
  readonly totalCount: Scalars['Int']['output'];
};

export type IdentificationEdge = {
  readonly cursor: Scalars['String']['output'];
  readonly node: Identification;
};

export type DecisionStanding =
  | 'PROPOSED'
  | 'ENDORSED'
  | 'DOUBTED'
  | 'REJECTED'
  | 'REOPENED';

export type DecisionVerdict =
  | 'ENDORSED'
  | 'DOUBTED'
  | 'REJECTED';

export type Decision = Node & {
  readonly id: Scalars['ID']['output'];
  readonly device?: Maybe<Device>;
  readonly pattern?: Maybe<Pattern>;
  readonly name: Scalars['String']['output'];
  readonly idea: Scalars['String']['output'];
  readonly probability: Scalars['Float']['output'];
  readonly shape: Scalars['Float']['output'];
  readonly strength: Scalars['Float']['output'];
  readonly method: ProbabilityMethod;
  readonly likelihood: Scalars['String']['output'];
  readonly matchCount: Scalars['Int']['output'];
  readonly matches?: Maybe<PatternMatchConnection>;
  readonly reasons: ReadonlyArray<Scalars['String']['output']>;
  readonly against: ReadonlyArray<Scalars['String']['output']>;
  readonly standing: DecisionStanding;
  readonly judgements: ReadonlyArray<DecisionJudgement>;
  readonly supportedBy?: Maybe<ReadonlyArray<Node>>;
  readonly observations?: Maybe<ReadonlyArray<Observation>>;
  readonly check?: Maybe<BoundCheck>;
};


export type DecisionMatchesArgs = {
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type DecisionCheckArgs = {
  given: ReadonlyArray<CheckInputValue>;
};

export type DecisionJudgement = {
  readonly verdict: DecisionVerdict;
  readonly by: Scalars['String']['output'];
  readonly reason: Scalars['String']['output'];
  readonly on: Scalars['DateTime']['output'];
};

export type JudgeDecisionInput = {
  readonly decision: Scalars['ID']['input'];
  readonly verdict: DecisionVerdict;
  readonly actor?: InputMaybe<Scalars['String']['input']>;
  readonly reason: Scalars['String']['input'];
};

export type JudgeDecisionPayload = {
  readonly decision?: Maybe<Decision>;
  readonly entry: JournalEntry;
};

export type DecisionConnection = {
  readonly edges: ReadonlyArray<DecisionEdge>;
  readonly nodes: ReadonlyArray<Decision>;
  readonly pageInfo: PageInfo;
  readonly totalCount: Scalars['Int']['output'];
};

export type DecisionEdge = {
  readonly cursor: Scalars['String']['output'];
  readonly node: Decision;
};

export type CheckVerdict =
  | 'SUPPORTS'
  | 'NEUTRAL'
  | 'SPEAKS_AGAINST';

export type CheckInputOrigin =
  | 'GRAPH'
  | 'STATED'
  | 'GIVEN';

export type DesignCheck = {
  readonly name: Scalars['String']['output'];
  readonly title: Scalars['String']['output'];
  readonly inputs: ReadonlyArray<DesignCheckInput>;
  readonly outputs: ReadonlyArray<DesignCheckOutput>;
  readonly formula: Scalars['String']['output'];
  readonly source: Scalars['String']['output'];
  readonly limits: Scalars['String']['output'];
  readonly cautions: ReadonlyArray<Scalars['String']['output']>;
};

export type DesignCheckInput = {
  readonly name: Scalars['String']['output'];
  readonly unit: Scalars['String']['output'];
  readonly meaning: Scalars['String']['output'];
  readonly isOptional: Scalars['Boolean']['output'];
  readonly min?: Maybe<Scalars['Float']['output']>;
  readonly max?: Maybe<Scalars['Float']['output']>;
  readonly beyond?: Maybe<Scalars['String']['output']>;
  readonly above?: Maybe<Scalars['Float']['output']>;
  readonly isInteger: Scalars['Boolean']['output'];
  readonly typical?: Maybe<TypicalRange>;
};

export type TypicalRange = {
  readonly low: Scalars['Float']['output'];
  readonly high: Scalars['Float']['output'];
  readonly note: Scalars['String']['output'];
};

export type DesignCheckOutput = {
  readonly name: Scalars['String']['output'];
  readonly unit: Scalars['String']['output'];
  readonly meaning: Scalars['String']['output'];
};

export type CheckInputValue = {
  readonly name: Scalars['String']['input'];
  readonly quantity: QuantityInput;
};

export type CheckResult = {
  readonly values: ReadonlyArray<CheckedValue>;
  readonly sentence: Scalars['String']['output'];
  readonly verdict: CheckVerdict;
  readonly notes: ReadonlyArray<Scalars['String']['output']>;
  readonly missing: ReadonlyArray<DesignCheckInput>;
  readonly check: DesignCheck;
};

export type CheckedValue = {
  readonly name: Scalars['String']['output'];
  readonly value: Scalars['Float']['output'];
  readonly low: Scalars['Float']['output'];
  readonly high: Scalars['Float']['output'];
  readonly unit: Scalars['String']['output'];
  readonly meaning: Scalars['String']['output'];
};

export type BoundCheck = {
  readonly check: DesignCheck;
  readonly inputs: ReadonlyArray<BoundInput>;
  readonly probability: Scalars['Float']['output'];
  readonly missing: ReadonlyArray<DesignCheckInput>;
  readonly result?: Maybe<CheckResult>;
  readonly problem?: Maybe<Scalars['String']['output']>;
};

export type BoundInput = {
  readonly name: Scalars['String']['output'];
  readonly quantity?: Maybe<Quantity>;
  readonly origin: CheckInputOrigin;
  readonly from: Scalars['String']['output'];
  readonly supportedBy: ReadonlyArray<Scalars['ID']['output']>;
  readonly probability: Scalars['Float']['output'];
};

export type BodySite =
  | 'WRIST'
  | 'FINGER'
  | 'EAR'
  | 'CHEST'
  | 'HEAD'
  | 'ANKLE'
  | 'EYEWEAR'
  | 'BADGE'
  | 'CLOTHING'
  | 'OTHER';

export type Device = Node & {
  readonly id: Scalars['ID']['output'];
  readonly name: Scalars['String']['output'];
  readonly maker?: Maybe<Maker>;
  readonly productLine?: Maybe<ProductLine>;
  readonly released: Scalars['PartialDate']['output'];
  readonly year: Scalars['Int']['output'];
  readonly bodySite: BodySite;
  readonly mass?: Maybe<Quantity>;
  readonly dimensions?: Maybe<Dimensions>;
  readonly price?: Maybe<Money>;
  readonly ingress?: Maybe<Scalars['String']['output']>;
  readonly regulatoryIds: ReadonlyArray<RegulatoryId>;
  readonly predecessors: ReadonlyArray<Device>;
  readonly successors: ReadonlyArray<Device>;
  readonly invented: Scalars['Boolean']['output'];
  readonly visibility?: Maybe<Visibility>;
  readonly embargoUntil?: Maybe<Scalars['DateTime']['output']>;
  readonly recalled?: Maybe<Recalled>;
  readonly note?: Maybe<Scalars['String']['output']>;
  readonly specimens?: Maybe<ReadonlyArray<Specimen>>;
  readonly specimen?: Maybe<Specimen>;
  readonly boards: ReadonlyArray<Board>;
  readonly subsystems: ReadonlyArray<Subsystem>;
  readonly components?: Maybe<ComponentConnection>;
  readonly links?: Maybe<PhysicalLinkConnection>;
  readonly nets?: Maybe<NetConnection>;
  readonly observations?: Maybe<ObservationConnection>;
  readonly identifications?: Maybe<IdentificationConnection>;
  readonly kindCounts?: Maybe<ReadonlyArray<KindCount>>;
  readonly subsystemCounts: ReadonlyArray<SubsystemCount>;
  readonly decisions?: Maybe<DecisionConnection>;
  readonly photoCollectionAddress?: Maybe<Scalars['String']['output']>;
  readonly presence?: Maybe<DevicePresence>;
};


export type DeviceComponentsArgs = {
  category?: InputMaybe<Scalars['String']['input']>;
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type DeviceLinksArgs = {
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type DeviceNetsArgs = {
  kind?: InputMaybe<NetKind>;
  bus?: InputMaybe<Bus>;
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type DeviceObservationsArgs = {
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type DeviceIdentificationsArgs = {
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type DeviceKindCountsArgs = {
  above: Scalars['String']['input'];
};


export type DeviceDecisionsArgs = {
  minimumProbability: Scalars['Float']['input'];
  includeRejected: Scalars['Boolean']['input'];
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type DevicePresenceArgs = {
  of: PresenceSubjectInput;
};

export type RegulatoryId = {
  readonly scheme: RegulatoryScheme;
  readonly code: Scalars['String']['output'];
};

export type RegulatoryScheme =
  | 'FCC'
  | 'GTIN'
  | 'CE'
  | 'ISED'
  | 'OTHER';

export type KindCount = {
  readonly kind: Scalars['String']['output'];
  readonly meaning: Scalars['String']['output'];
  readonly certain: Scalars['Int']['output'];
  readonly expected: Scalars['Float']['output'];
  readonly possible: Scalars['Int']['output'];
  readonly verdict: PresenceVerdict;
};

export type SubsystemCount = {
  readonly kind?: Maybe<SubsystemKind>;
  readonly components: Scalars['Int']['output'];
};

export type DeviceFilter = {
  readonly makers?: InputMaybe<ReadonlyArray<Scalars['ID']['input']>>;
  readonly productLines?: InputMaybe<ReadonlyArray<Scalars['ID']['input']>>;
  readonly bodySites?: InputMaybe<ReadonlyArray<BodySite>>;
  readonly releasedFrom?: InputMaybe<Scalars['PartialDate']['input']>;
  readonly releasedTo?: InputMaybe<Scalars['PartialDate']['input']>;
  readonly priceFrom?: InputMaybe<Scalars['Float']['input']>;
  readonly priceTo?: InputMaybe<Scalars['Float']['input']>;
  readonly currency?: InputMaybe<Scalars['String']['input']>;
  readonly hasPart?: InputMaybe<Scalars['ID']['input']>;
  readonly hasCategory?: InputMaybe<Scalars['String']['input']>;
};

export type DeviceOrderField =
  | 'RELEASED'
  | 'NAME'
  | 'MAKER'
  | 'ID';

export type DeviceOrder = {
  readonly field: DeviceOrderField;
  readonly direction: Direction;
};

export type DeviceConnection = {
  readonly edges: ReadonlyArray<DeviceEdge>;
  readonly nodes: ReadonlyArray<Device>;
  readonly pageInfo: PageInfo;
  readonly totalCount: Scalars['Int']['output'];
};

export type DeviceEdge = {
  readonly cursor: Scalars['String']['output'];
  readonly node: Device;
};

export type PictureForm =
  | 'EMBEDDED'
  | 'LINKED';

export type Drawing = {
  readonly title: Scalars['String']['output'];
  readonly description: Scalars['String']['output'];
  readonly svg: Scalars['String']['output'];
};

export type PlanView = {
  readonly side: Side;
  readonly width: Scalars['Float']['output'];
  readonly height: Scalars['Float']['output'];
  readonly origin: SheetSpot;
  readonly axes: SheetSpot;
  readonly shapes: Scalars['Json']['output'];
  readonly photo?: Maybe<PlanPhoto>;
  readonly hatches: ReadonlyArray<PlanHatch>;
};

export type PlanPhoto = {
  readonly id: Scalars['ID']['output'];
  readonly address: Scalars['String']['output'];
  readonly note: Scalars['String']['output'];
  readonly at: SheetSpot;
  readonly width: Scalars['Float']['output'];
  readonly height: Scalars['Float']['output'];
};

export type SheetSpot = {
  readonly x: Scalars['Float']['output'];
  readonly y: Scalars['Float']['output'];
};

export type PlanHatch = {
  readonly number: Scalars['Int']['output'];
  readonly subsystem: Scalars['String']['output'];
  readonly tile: Scalars['Float']['output'];
  readonly turn: Scalars['Float']['output'];
  readonly marks: HatchMark;
  readonly pen: Scalars['Float']['output'];
};

export type HatchMark =
  | 'LINES'
  | 'GRID'
  | 'DOTS';

export type ClaimFindingKind =
  | 'OVERSTATED'
  | 'UNDERSTATED'
  | 'UNSUPPORTED'
  | 'CONTRADICTED'
  | 'WITHDRAWN';

export type WordingRange =
  | 'SCALE'
  | 'USAGE'
  | 'FLAT';

export type AuditedClaim = {
  readonly claim: Claim;
  readonly likelihoodWords?: Maybe<Scalars['String']['output']>;
  readonly low: Scalars['Float']['output'];
  readonly high: Scalars['Float']['output'];
  readonly rangeBy: WordingRange;
  readonly support: ClaimSupport;
  readonly probability?: Maybe<Scalars['Float']['output']>;
  readonly proposal?: Maybe<Scalars['String']['output']>;
  readonly statements: ReadonlyArray<Statement>;
  readonly notChecked: ReadonlyArray<Scalars['String']['output']>;
  readonly findings: ReadonlyArray<ClaimFinding>;
};

export type Statement = {
  readonly kind: StatementKind;
  readonly text: Scalars['String']['output'];
  readonly result: StatementResult;
  readonly message: Scalars['String']['output'];
};

export type StatementKind =
  | 'QUANTITY'
  | 'COMPONENT'
  | 'COUNT'
  | 'QUANTIFIER'
  | 'PART'
  | 'MAKER'
  | 'DEVICE'
  | 'DATE';

export type StatementResult =
  | 'CARRIED'
  | 'CONTRADICTED'
  | 'UNSUPPORTED';

export type ClaimSupport = {
  readonly items: ReadonlyArray<SupportItem>;
  readonly probability?: Maybe<Scalars['Float']['output']>;
  readonly low?: Maybe<Scalars['Float']['output']>;
  readonly high?: Maybe<Scalars['Float']['output']>;
};

export type SupportItem = {
  readonly id: Scalars['String']['output'];
  readonly kind: SupportKind;
  readonly description: Scalars['String']['output'];
  readonly probability?: Maybe<Scalars['Float']['output']>;
  readonly trouble?: Maybe<Scalars['String']['output']>;
  readonly isFound?: Maybe<Scalars['Boolean']['output']>;
};

export type SupportKind =
  | 'OBSERVATION'
  | 'COMPONENT'
  | 'BOARD'
  | 'SPECIMEN'
  | 'DEVICE'
  | 'PART'
  | 'DECISION'
  | 'CLAIM'
  | 'FIGURE'
  | 'SOURCE'
  | 'RECORD'
  | 'NOTHING';

export type ClaimFinding = {
  readonly kind: ClaimFindingKind;
  readonly message: Scalars['String']['output'];
};

export type ThingKind =
  | 'DEVICE'
  | 'SPECIMEN'
  | 'TEARDOWN'
  | 'BOARD'
  | 'SUBSYSTEM'
  | 'COMPONENT'
  | 'OBSERVATION'
  | 'PHOTO'
  | 'PART'
  | 'MAKER'
  | 'PRODUCT_LINE'
  | 'SOURCE'
  | 'PATTERN'
  | 'DECISION'
  | 'PUBLICATION'
  | 'CLAIM'
  | 'CORRECTION';

export type NamedThing = {
  readonly id: Scalars['ID']['output'];
  readonly kind: ThingKind;
  readonly description: Scalars['String']['output'];
};

export type Impact = {
  readonly of: NamedThing;
  readonly impacted?: Maybe<ImpactedThingConnection>;
};


export type ImpactImpactedArgs = {
  kinds?: InputMaybe<ReadonlyArray<ThingKind>>;
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};

export type ImpactedThing = {
  readonly id: Scalars['ID']['output'];
  readonly kind: ThingKind;
  readonly description: Scalars['String']['output'];
  readonly generation: Scalars['Int']['output'];
  readonly path: ReadonlyArray<Scalars['ID']['output']>;
  readonly how: ReadonlyArray<Scalars['String']['output']>;
};

export type AmendmentInput = {
  readonly identify?: InputMaybe<ReidentificationInput>;
  readonly withdraw?: InputMaybe<Scalars['ID']['input']>;
  readonly observe?: InputMaybe<FurtherObservationInput>;
  readonly value?: InputMaybe<CorrectedValueInput>;
};

export type ReidentificationInput = {
  readonly component: Scalars['ID']['input'];
  readonly candidates: ReadonlyArray<CandidateInput>;
  readonly state: IdentificationState;
  readonly basis: ReadonlyArray<Scalars['String']['input']>;
};

export type FurtherObservationInput = {
  readonly specimen: Scalars['ID']['input'];
  readonly observation: ObservationInput;
};

export type CorrectedValueInput = {
  readonly of: Scalars['ID']['input'];
  readonly field: Scalars['String']['input'];
  readonly text?: InputMaybe<Scalars['String']['input']>;
  readonly number?: InputMaybe<Scalars['Float']['input']>;
  readonly quantity?: InputMaybe<QuantityInput>;
  readonly flag?: InputMaybe<Scalars['Boolean']['input']>;
  readonly list?: InputMaybe<ReadonlyArray<Scalars['String']['input']>>;
};

export type Difference = {
  readonly devices?: Maybe<DeviceConnection>;
  readonly gained?: Maybe<DecisionDifferenceConnection>;
  readonly lost?: Maybe<DecisionDifferenceConnection>;
  readonly moved?: Maybe<DecisionDifferenceConnection>;
  readonly cells?: Maybe<CellDifferenceConnection>;
  readonly trendPoints?: Maybe<TrendPointDifferenceConnection>;
  readonly claims?: Maybe<ClaimDifferenceConnection>;
};


export type DifferenceDevicesArgs = {
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type DifferenceGainedArgs = {
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type DifferenceLostArgs = {
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type DifferenceMovedArgs = {
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type DifferenceCellsArgs = {
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type DifferenceTrendPointsArgs = {
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type DifferenceClaimsArgs = {
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};

export type DecisionDifference = {
  readonly id: Scalars['ID']['output'];
  readonly name: Scalars['String']['output'];
  readonly before?: Maybe<Scalars['Float']['output']>;
  readonly after?: Maybe<Scalars['Float']['output']>;
  readonly standingBefore?: Maybe<DecisionStanding>;
  readonly standingAfter?: Maybe<DecisionStanding>;
};

export type CellDifference = {
  readonly specimen: Scalars['ID']['output'];
  readonly row: Scalars['String']['output'];
  readonly label: Scalars['String']['output'];
  readonly unit: Scalars['String']['output'];
  readonly before?: Maybe<CellFigures>;
  readonly after?: Maybe<CellFigures>;
};

export type CellFigures = {
  readonly certain?: Maybe<Scalars['Float']['output']>;
  readonly expected?: Maybe<Scalars['Float']['output']>;
  readonly possible?: Maybe<Scalars['Float']['output']>;
};

export type TrendPointDifference = {
  readonly subject: Scalars['String']['output'];
  readonly year: Scalars['Int']['output'];
  readonly device: Scalars['ID']['output'];
  readonly before: Scalars['Float']['output'];
  readonly after: Scalars['Float']['output'];
};

export type ClaimDifference = {
  readonly id: Scalars['ID']['output'];
  readonly publication: Scalars['ID']['output'];
  readonly publicationTitle: Scalars['String']['output'];
  readonly sentence: Scalars['String']['output'];
  readonly before?: Maybe<Scalars['Float']['output']>;
  readonly after?: Maybe<Scalars['Float']['output']>;
  readonly newFindings: ReadonlyArray<ClaimFinding>;
  readonly settledFindings: ReadonlyArray<ClaimFinding>;
  readonly movedFindings: ReadonlyArray<ClaimFinding>;
  readonly proposal?: Maybe<Scalars['String']['output']>;
};

export type Correction = {
  readonly id: Scalars['ID']['output'];
  readonly summary: Scalars['String']['output'];
  readonly by: Scalars['String']['output'];
  readonly reason: Scalars['String']['output'];
  readonly on: Scalars['DateTime']['output'];
  readonly publications: ReadonlyArray<CorrectedPublication>;
  readonly visibility?: Maybe<Visibility>;
  readonly embargoUntil?: Maybe<Scalars['DateTime']['output']>;
  readonly recalled?: Maybe<Recalled>;
};

export type CorrectedPublication = {
  readonly publication: Publication;
  readonly notice?: Maybe<Scalars['String']['output']>;
  readonly claims: ReadonlyArray<CorrectedClaim>;
};

export type CorrectedClaim = {
  readonly id: Scalars['ID']['output'];
  readonly sentence: Scalars['String']['output'];
  readonly before?: Maybe<Scalars['Float']['output']>;
  readonly after?: Maybe<Scalars['Float']['output']>;
  readonly findings: ReadonlyArray<Scalars['String']['output']>;
};

export type CorrectInput = {
  readonly change: AmendmentInput;
  readonly actor?: InputMaybe<Scalars['String']['input']>;
  readonly reason: Scalars['String']['input'];
  readonly embargoUntil?: InputMaybe<Scalars['DateTime']['input']>;
};

export type CorrectPayload = {
  readonly correction: Correction;
  readonly difference: Difference;
  readonly entry: JournalEntry;
};

export type ClaimPhoto = {
  readonly photo?: Maybe<Photo>;
  readonly of?: Maybe<Node>;
  readonly fragment?: Maybe<Scalars['String']['output']>;
  readonly address?: Maybe<Scalars['String']['output']>;
};

export type AuditedClaimConnection = {
  readonly edges: ReadonlyArray<AuditedClaimEdge>;
  readonly nodes: ReadonlyArray<AuditedClaim>;
  readonly pageInfo: PageInfo;
  readonly totalCount: Scalars['Int']['output'];
};

export type AuditedClaimEdge = {
  readonly cursor: Scalars['String']['output'];
  readonly node: AuditedClaim;
};

export type CorrectionConnection = {
  readonly edges: ReadonlyArray<CorrectionEdge>;
  readonly nodes: ReadonlyArray<Correction>;
  readonly pageInfo: PageInfo;
  readonly totalCount: Scalars['Int']['output'];
};

export type CorrectionEdge = {
  readonly cursor: Scalars['String']['output'];
  readonly node: Correction;
};

export type ImpactedThingConnection = {
  readonly edges: ReadonlyArray<ImpactedThingEdge>;
  readonly nodes: ReadonlyArray<ImpactedThing>;
  readonly pageInfo: PageInfo;
  readonly totalCount: Scalars['Int']['output'];
};

export type ImpactedThingEdge = {
  readonly cursor: Scalars['String']['output'];
  readonly node: ImpactedThing;
};

export type DecisionDifferenceConnection = {
  readonly edges: ReadonlyArray<DecisionDifferenceEdge>;
  readonly nodes: ReadonlyArray<DecisionDifference>;
  readonly pageInfo: PageInfo;
  readonly totalCount: Scalars['Int']['output'];
};

export type DecisionDifferenceEdge = {
  readonly cursor: Scalars['String']['output'];
  readonly node: DecisionDifference;
};

export type CellDifferenceConnection = {
  readonly edges: ReadonlyArray<CellDifferenceEdge>;
  readonly nodes: ReadonlyArray<CellDifference>;
  readonly pageInfo: PageInfo;
  readonly totalCount: Scalars['Int']['output'];
};

export type CellDifferenceEdge = {
  readonly cursor: Scalars['String']['output'];
  readonly node: CellDifference;
};

export type TrendPointDifferenceConnection = {
  readonly edges: ReadonlyArray<TrendPointDifferenceEdge>;
  readonly nodes: ReadonlyArray<TrendPointDifference>;
  readonly pageInfo: PageInfo;
  readonly totalCount: Scalars['Int']['output'];
};

export type TrendPointDifferenceEdge = {
  readonly cursor: Scalars['String']['output'];
  readonly node: TrendPointDifference;
};

export type ClaimDifferenceConnection = {
  readonly edges: ReadonlyArray<ClaimDifferenceEdge>;
  readonly nodes: ReadonlyArray<ClaimDifference>;
  readonly pageInfo: PageInfo;
  readonly totalCount: Scalars['Int']['output'];
};

export type ClaimDifferenceEdge = {
  readonly cursor: Scalars['String']['output'];
  readonly node: ClaimDifference;
};

export type Export = {
  readonly kind: Scalars['String']['output'];
  readonly about: Scalars['String']['output'];
  readonly zip?: Maybe<Scalars['String']['output']>;
  readonly files: ReadonlyArray<ExportFile>;
};

export type ExportFile = {
  readonly name: Scalars['String']['output'];
  readonly mediaType: Scalars['String']['output'];
  readonly address?: Maybe<Scalars['String']['output']>;
  readonly rows?: Maybe<Scalars['Int']['output']>;
  readonly lossCount?: Maybe<Scalars['Int']['output']>;
  readonly losses?: Maybe<ReadonlyArray<ExportLoss>>;
  readonly text?: Maybe<Scalars['String']['output']>;
};

export type ExportLoss = {
  readonly record: Scalars['ID']['output'];
  readonly field: Scalars['String']['output'];
  readonly why: Scalars['String']['output'];
};

export type Feed = Node & {
  readonly id: Scalars['ID']['output'];
  readonly title: Scalars['String']['output'];
  readonly question: Scalars['String']['output'];
  readonly documentId: Scalars['String']['output'];
  readonly variables: Scalars['Json']['output'];
  readonly rows?: Maybe<Scalars['String']['output']>;
  readonly maxAge: Scalars['Int']['output'];
  readonly origins: ReadonlyArray<Scalars['String']['output']>;
  readonly note?: Maybe<Scalars['String']['output']>;
  readonly visibility?: Maybe<Visibility>;
  readonly embargoUntil?: Maybe<Scalars['DateTime']['output']>;
};

export type FeedConnection = {
  readonly edges: ReadonlyArray<FeedEdge>;
  readonly nodes: ReadonlyArray<Feed>;
  readonly pageInfo: PageInfo;
  readonly totalCount: Scalars['Int']['output'];
};

export type FeedEdge = {
  readonly cursor: Scalars['String']['output'];
  readonly node: Feed;
};

export type Subscription = {
  readonly feedChanged?: Maybe<FeedChange>;
};


export type SubscriptionFeedChangedArgs = {
  id: Scalars['ID']['input'];
};

export type FeedChange = {
  readonly feed: Scalars['ID']['output'];
  readonly digest: Scalars['String']['output'];
  readonly since: Scalars['DateTime']['output'];
};

export type SaveFeedInput = {
  readonly id: Scalars['ID']['input'];
  readonly title: Scalars['String']['input'];
  readonly question: Scalars['String']['input'];
  readonly variables?: InputMaybe<Scalars['Json']['input']>;
  readonly rows?: InputMaybe<Scalars['String']['input']>;
  readonly maxAge: Scalars['Int']['input'];
  readonly origins: ReadonlyArray<Scalars['String']['input']>;
  readonly note?: InputMaybe<Scalars['String']['input']>;
  readonly visibility: Visibility;
  readonly embargoUntil?: InputMaybe<Scalars['DateTime']['input']>;
  readonly actor?: InputMaybe<Scalars['String']['input']>;
  readonly reason: Scalars['String']['input'];
};

export type SaveFeedPayload = {
  readonly feed?: Maybe<Feed>;
  readonly entry?: Maybe<JournalEntry>;
};

export type Generations = {
  readonly productLine: ProductLine;
  readonly generations: ReadonlyArray<Generation>;
  readonly comparison: Comparison;
  readonly steps?: Maybe<ReadonlyArray<GenerationStep>>;
  readonly parts?: Maybe<ReadonlyArray<PartSighting>>;
  readonly makers?: Maybe<ReadonlyArray<MakerSighting>>;
  readonly chart?: Maybe<Chart>;
};


export type GenerationsChartArgs = {
  of: GenerationsChart;
  sections: ReadonlyArray<ComparisonSectionKey>;
  size: ChartSize;
};

export type GenerationsChart =
  | 'STEPS'
  | 'FIGURES'
  | 'PARTS'
  | 'MAKERS';

export type Generation = {
  readonly device: Device;
  readonly number: Scalars['Int']['output'];
  readonly predecessors: ReadonlyArray<Device>;
  readonly successors: ReadonlyArray<Device>;
  readonly keptParts?: Maybe<ReadonlyArray<KeptPart>>;
  readonly integration?: Maybe<Integration>;
  readonly revisions?: Maybe<ReadonlyArray<HardwareRevision>>;
};

export type GenerationStep = {
  readonly from: Device;
  readonly to: Device;
  readonly alignment?: Maybe<Alignment>;
  readonly decisions?: Maybe<ReadonlyArray<DecisionAdoption>>;
};


export type GenerationStepAlignmentArgs = {
  weights?: InputMaybe<AlignmentWeightsInput>;
};

export type DecisionAdoption = {
  readonly pattern?: Maybe<Pattern>;
  readonly adopted: Scalars['Boolean']['output'];
  readonly before: Scalars['Float']['output'];
  readonly after: Scalars['Float']['output'];
  readonly probability: Scalars['Float']['output'];
  readonly isCertain: Scalars['Boolean']['output'];
};

export type PartSighting = {
  readonly part?: Maybe<Part>;
  readonly first: Device;
  readonly last: Device;
  readonly firstProbability: Scalars['Float']['output'];
  readonly lastProbability: Scalars['Float']['output'];
  readonly maybeSince?: Maybe<Device>;
  readonly maybeUntil?: Maybe<Device>;
  readonly certain: Scalars['Int']['output'];
  readonly expected: Scalars['Float']['output'];
  readonly possible: Scalars['Int']['output'];
  readonly isCurrent: Scalars['Boolean']['output'];
};

export type MakerSighting = {
  readonly maker?: Maybe<Maker>;
  readonly first: Device;
  readonly last: Device;
  readonly firstProbability: Scalars['Float']['output'];
  readonly lastProbability: Scalars['Float']['output'];
  readonly maybeSince?: Maybe<Device>;
  readonly maybeUntil?: Maybe<Device>;
  readonly certain: Scalars['Int']['output'];
  readonly expected: Scalars['Float']['output'];
  readonly possible: Scalars['Int']['output'];
  readonly isCurrent: Scalars['Boolean']['output'];
};

export type KeptPart = {
  readonly part?: Maybe<Part>;
  readonly probability: Scalars['Float']['output'];
  readonly since: Device;
};

export type Integration = {
  readonly certainChips: Scalars['Int']['output'];
  readonly expectedChips: Scalars['Float']['output'];
  readonly certainFunctions: Scalars['Int']['output'];
  readonly expectedFunctions: Scalars['Float']['output'];
  readonly certainFunctionsAChip?: Maybe<Scalars['Float']['output']>;
  readonly expectedFunctionsAChip?: Maybe<Scalars['Float']['output']>;
  readonly unnamed: Scalars['Int']['output'];
};

export type HardwareRevision = {
  readonly from: Specimen;
  readonly to: Specimen;
  readonly isChanged: Scalars['Boolean']['output'];
  readonly alignment: Alignment;
};

export type HistoryEntry = {
  readonly sequence: Scalars['Int']['output'];
  readonly id: Scalars['ID']['output'];
  readonly instant: Scalars['DateTime']['output'];
  readonly countsFrom: Scalars['DateTime']['output'];
  readonly actor: Scalars['String']['output'];
  readonly reason: Scalars['String']['output'];
  readonly kind: EntryKind;
  readonly subject: Scalars['String']['output'];
  readonly hash: Scalars['String']['output'];
};

export type ArchiveDifference = {
  readonly records?: Maybe<RecordDifferenceConnection>;
  readonly conclusions?: Maybe<Difference>;
};


export type ArchiveDifferenceRecordsArgs = {
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};

export type RecordDifferenceKind =
  | 'ADDED'
  | 'REMOVED'
  | 'CHANGED';

export type RecordDifference = {
  readonly id: Scalars['ID']['output'];
  readonly kind: ThingKind;
  readonly change: RecordDifferenceKind;
  readonly fields: ReadonlyArray<FieldDifference>;
  readonly omittedFields: Scalars['Int']['output'];
};

export type FieldDifference = {
  readonly path: Scalars['String']['output'];
  readonly before?: Maybe<Scalars['String']['output']>;
  readonly after?: Maybe<Scalars['String']['output']>;
};

export type CorrectClockInput = {
  readonly first: Scalars['Int']['input'];
  readonly last: Scalars['Int']['input'];
  readonly at: Scalars['DateTime']['input'];
  readonly actor?: InputMaybe<Scalars['String']['input']>;
  readonly reason: Scalars['String']['input'];
};

export type CorrectClockPayload = {
  readonly entry: JournalEntry;
};

export type HistoryEntryConnection = {
  readonly edges: ReadonlyArray<HistoryEntryEdge>;
  readonly nodes: ReadonlyArray<HistoryEntry>;
  readonly pageInfo: PageInfo;
  readonly totalCount: Scalars['Int']['output'];
};

export type HistoryEntryEdge = {
  readonly cursor: Scalars['String']['output'];
  readonly node: HistoryEntry;
};

export type RecordDifferenceConnection = {
  readonly edges: ReadonlyArray<RecordDifferenceEdge>;
  readonly nodes: ReadonlyArray<RecordDifference>;
  readonly pageInfo: PageInfo;
  readonly totalCount: Scalars['Int']['output'];
};

export type RecordDifferenceEdge = {
  readonly cursor: Scalars['String']['output'];
  readonly node: RecordDifference;
};

export type EvidenceKind =
  | 'MARKING'
  | 'PACKAGE'
  | 'PIN_COUNT'
  | 'BODY_SIZE'
  | 'APPEARANCE'
  | 'BOARD_SIDE'
  | 'NEIGHBOURS'
  | 'BUSES'
  | 'PINOUT'
  | 'MAKER_HABIT'
  | 'RELEASE_DATE'
  | 'UNKNOWN_PART'
  | 'JUDGEMENT';

export type CandidateState =
  | 'ALL_BUT_CERTAIN'
  | 'LEADING'
  | 'CONTESTED'
  | 'NOT_IN_CATALOGUE';

export type Candidates = {
  readonly component: Component;
  readonly state: CandidateState;
  readonly parts?: Maybe<ReadonlyArray<PossiblePart>>;
  readonly none: Scalars['Float']['output'];
  readonly categories: ReadonlyArray<PossibleCategory>;
  readonly makers: ReadonlyArray<PossibleMaker>;
  readonly kinds: ReadonlyArray<PossibleKind>;
  readonly disagreement?: Maybe<Disagreement>;
  readonly set?: Maybe<CandidateSet>;
  readonly classes: ReadonlyArray<PossibleClass>;
  readonly roles: ReadonlyArray<PossibleRole>;
  readonly sentence?: Maybe<Scalars['String']['output']>;
  readonly whatWouldSettleIt: ReadonlyArray<ClassObservation>;
};


export type CandidatesPartsArgs = {
  first: Scalars['Int']['input'];
};


export type CandidatesSetArgs = {
  coverage: Scalars['Float']['input'];
};

export type Disagreement = {
  readonly component: Component;
  readonly recorded: Scalars['ID']['output'];
  readonly recordedProbability: Scalars['Float']['output'];
  readonly probability: Scalars['Float']['output'];
  readonly instead?: Maybe<Part>;
  readonly insteadProbability: Scalars['Float']['output'];
  readonly against: ReadonlyArray<Evidence>;
};

export type DisagreementConnection = {
  readonly edges: ReadonlyArray<DisagreementEdge>;
  readonly nodes: ReadonlyArray<Disagreement>;
  readonly pageInfo: PageInfo;
  readonly totalCount: Scalars['Int']['output'];
};

export type DisagreementEdge = {
  readonly cursor: Scalars['String']['output'];
  readonly node: Disagreement;
};

export type PossibleClass = {
  readonly name: Scalars['String']['output'];
  readonly probability: Scalars['Float']['output'];
  readonly kinds: ReadonlyArray<PossibleKind>;
};

export type PossibleRole = {
  readonly does: Scalars['String']['output'];
  readonly to: Scalars['String']['output'];
  readonly component?: Maybe<Component>;
  readonly probability: Scalars['Float']['output'];
  readonly classes: ReadonlyArray<Scalars['String']['output']>;
};

export type ClassObservation = {
  readonly action: Scalars['String']['output'];
  readonly tells?: Maybe<Scalars['String']['output']>;
  readonly bits: Scalars['Float']['output'];
  readonly minutes: Scalars['Float']['output'];
  readonly bitsPerMinute: Scalars['Float']['output'];
  readonly isDestructive: Scalars['Boolean']['output'];
  readonly cautions: ReadonlyArray<Scalars['String']['output']>;
};

export type CandidateSet = {
  readonly coverage: Scalars['Float']['output'];
  readonly parts?: Maybe<ReadonlyArray<Part>>;
  readonly hasNone: Scalars['Boolean']['output'];
  readonly size: Scalars['Int']['output'];
  readonly devices: Scalars['Int']['output'];
  readonly among: CoverageAmong;
  readonly void?: Maybe<Scalars['String']['output']>;
};


export type CandidateSetPartsArgs = {
  first: Scalars['Int']['input'];
};

export type CoverageAmong =
  | 'CHIPS_READ_ALIKE'
  | 'ALL_CHIPS';

export type PossibleKind = {
  readonly term: Scalars['String']['output'];
  readonly probability: Scalars['Float']['output'];
  readonly prior: Scalars['Float']['output'];
  readonly evidence: ReadonlyArray<Evidence>;
};

export type PossiblePart = {
  readonly part: Part;
  readonly probability: Scalars['Float']['output'];
  readonly priorDecibans: Scalars['Float']['output'];
  readonly evidence: ReadonlyArray<Evidence>;
};

export type Evidence = {
  readonly kind: EvidenceKind;
  readonly description: Scalars['String']['output'];
  readonly decibans: Scalars['Float']['output'];
};

export type PossibleCategory = {
  readonly term: Scalars['String']['output'];
  readonly probability: Scalars['Float']['output'];
};

export type PossibleMaker = {
  readonly maker: Maker;
  readonly probability: Scalars['Float']['output'];
};

export type NextObservation = {
  readonly component: Component;
  readonly action: Scalars['String']['output'];
  readonly pin?: Maybe<Scalars['String']['output']>;
  readonly kind: ObservationKind;
  readonly bits: Scalars['Float']['output'];
  readonly minutes: Scalars['Float']['output'];
  readonly bitsPerMinute: Scalars['Float']['output'];
  readonly isDestructive: Scalars['Boolean']['output'];
  readonly cautions: ReadonlyArray<Scalars['String']['output']>;
};

export type MarkingReading = {
  readonly text: Scalars['String']['output'];
  readonly logos: ReadonlyArray<Scalars['String']['output']>;
  readonly lines: ReadonlyArray<MarkingLine>;
  readonly matches?: Maybe<ReadonlyArray<MarkingMatch>>;
  readonly numbered?: Maybe<ReadonlyArray<Part>>;
};

export type PhotoReading = {
  readonly photo: Photo;
  readonly region: Scalars['String']['output'];
  readonly turned: Scalars['Float']['output'];
  readonly component?: Maybe<Component>;
  readonly lines: ReadonlyArray<PhotoLine>;
  readonly suggestion?: Maybe<MarkingSuggestion>;
  readonly ifConfirmed?: Maybe<CandidatesIfConfirmed>;
  readonly others: ReadonlyArray<OtherPhotoReading>;
};

export type PhotoLine = {
  readonly characters: ReadonlyArray<PhotoCharacter>;
};

export type PhotoCharacter = {
  readonly text: Scalars['String']['output'];
  readonly confidence: Scalars['Float']['output'];
  readonly alternatives: ReadonlyArray<CharacterAlternative>;
  readonly nothing: Scalars['Float']['output'];
};

export type CharacterAlternative = {
  readonly text: Scalars['String']['output'];
  readonly probability: Scalars['Float']['output'];
};

export type OtherPhotoReading = {
  readonly photo: Photo;
  readonly marking?: Maybe<Scalars['String']['output']>;
};

export type CandidatesIfConfirmed = {
  readonly parts?: Maybe<ReadonlyArray<PartIfConfirmed>>;
  readonly none: Scalars['Float']['output'];
  readonly recordedNone: Scalars['Float']['output'];
};


export type CandidatesIfConfirmedPartsArgs = {
  first: Scalars['Int']['input'];
};

export type PartIfConfirmed = {
  readonly part: Part;
  readonly probability: Scalars['Float']['output'];
  readonly recordedProbability?: Maybe<Scalars['Float']['output']>;
  readonly bits?: Maybe<Scalars['Float']['output']>;
};

export type MarkingLine = {
  readonly text: Scalars['String']['output'];
  readonly doubtful: Scalars['Int']['output'];
  readonly unread: Scalars['Int']['output'];
  readonly readings: ReadonlyArray<CodeReading>;
};

export type CodeReading = {
  readonly as: Scalars['String']['output'];
  readonly rule: Scalars['String']['output'];
  readonly source: Scalars['String']['output'];
  readonly description: Scalars['String']['output'];
  readonly doubt?: Maybe<Scalars['String']['output']>;
};

export type MarkingMatch = {
  readonly part: Part;
  readonly marking: Scalars['String']['output'];
  readonly decibans: Scalars['Float']['output'];
};

export type Calibration = {
  readonly components: Scalars['Int']['output'];
  readonly settled: Scalars['Int']['output'];
  readonly brier: Scalars['Float']['output'];
  readonly logLoss: Scalars['Float']['output'];
  readonly first: Scalars['Float']['output'];
  readonly firstThree: Scalars['Float']['output'];
  readonly reliability: ReadonlyArray<ReliabilityBin>;
  readonly nearlyCertain: ReadonlyArray<ReliabilityBin>;
  readonly devices: Scalars['Int']['output'];
  readonly withoutParts: HeldOutCalibration;
};

export type HeldOutCalibration = {
  readonly components: Scalars['Int']['output'];
  readonly devices: Scalars['Int']['output'];
  readonly absent: Scalars['Int']['output'];
  readonly parts: Scalars['Int']['output'];
  readonly brier: Scalars['Float']['output'];
  readonly logLoss: Scalars['Float']['output'];
  readonly first: Scalars['Float']['output'];
  readonly firstThree: Scalars['Float']['output'];
  readonly reliability: ReadonlyArray<ReliabilityBin>;
  readonly nearlyCertain: ReadonlyArray<ReliabilityBin>;
};

export type ReliabilityBin = {
  readonly from: Scalars['Float']['output'];
  readonly to: Scalars['Float']['output'];
  readonly count: Scalars['Int']['output'];
  readonly stated?: Maybe<Scalars['Float']['output']>;
  readonly observed?: Maybe<Scalars['Float']['output']>;
  readonly low?: Maybe<Scalars['Float']['output']>;
  readonly high?: Maybe<Scalars['Float']['output']>;
  readonly isCalibrated?: Maybe<Scalars['Boolean']['output']>;
};

export type JudgeIdentificationPayload = {
  readonly component?: Maybe<Component>;
  readonly entry: JournalEntry;
  readonly cautions: ReadonlyArray<ChangeCaution>;
};

export type WithdrawObservationPayload = {
  readonly observation?: Maybe<Observation>;
  readonly entry: JournalEntry;
};

export type Withdrawal = {
  readonly by: Scalars['String']['output'];
  readonly on: Scalars['DateTime']['output'];
  readonly reason: Scalars['String']['output'];
};

export type JudgeIdentificationInput = {
  readonly component: Scalars['ID']['input'];
  readonly part: Scalars['ID']['input'];
  readonly decibans: Scalars['Float']['input'];
  readonly actor?: InputMaybe<Scalars['String']['input']>;
  readonly reason: Scalars['String']['input'];
};

export type WithdrawObservationInput = {
  readonly specimen: Scalars['ID']['input'];
  readonly observation: Scalars['ID']['input'];
  readonly actor?: InputMaybe<Scalars['String']['input']>;
  readonly reason: Scalars['String']['input'];
};

export type ListMappingColumn = {
  readonly heading: Scalars['String']['output'];
  readonly field: Scalars['String']['output'];
  readonly unit?: Maybe<Scalars['String']['output']>;
};

export type ListMapping = Node & {
  readonly id: Scalars['ID']['output'];
  readonly title: Scalars['String']['output'];
  readonly columns: ReadonlyArray<ListMappingColumn>;
  readonly sheet?: Maybe<Scalars['String']['output']>;
  readonly headingRow?: Maybe<Scalars['Int']['output']>;
  readonly decimal?: Maybe<TradeDecimalSign>;
  readonly unit?: Maybe<TradeLengthUnit>;
  readonly note?: Maybe<Scalars['String']['output']>;
  readonly visibility?: Maybe<Visibility>;
  readonly embargoUntil?: Maybe<Scalars['DateTime']['output']>;
};

export type ListMappingConnection = {
  readonly edges: ReadonlyArray<ListMappingEdge>;
  readonly nodes: ReadonlyArray<ListMapping>;
  readonly pageInfo: PageInfo;
  readonly totalCount: Scalars['Int']['output'];
};

export type ListMappingEdge = {
  readonly cursor: Scalars['String']['output'];
  readonly node: ListMapping;
};

export type ListMappingColumnInput = {
  readonly heading: Scalars['String']['input'];
  readonly field: Scalars['String']['input'];
  readonly unit?: InputMaybe<Scalars['String']['input']>;
};

export type SaveListMappingInput = {
  readonly id: Scalars['ID']['input'];
  readonly title: Scalars['String']['input'];
  readonly columns: ReadonlyArray<ListMappingColumnInput>;
  readonly sheet?: InputMaybe<Scalars['String']['input']>;
  readonly headingRow?: InputMaybe<Scalars['Int']['input']>;
  readonly decimal?: InputMaybe<TradeDecimalSign>;
  readonly unit?: InputMaybe<TradeLengthUnit>;
  readonly note?: InputMaybe<Scalars['String']['input']>;
  readonly visibility: Visibility;
  readonly embargoUntil?: InputMaybe<Scalars['DateTime']['input']>;
  readonly actor?: InputMaybe<Scalars['String']['input']>;
  readonly reason: Scalars['String']['input'];
};

export type SaveListMappingPayload = {
  readonly listMapping?: Maybe<ListMapping>;
  readonly entry?: Maybe<JournalEntry>;
};

export type Makes =
  | 'DEVICES'
  | 'PARTS';

export type Maker = Node & {
  readonly id: Scalars['ID']['output'];
  readonly name: Scalars['String']['output'];
  readonly makes: ReadonlyArray<Makes>;
  readonly country?: Maybe<Scalars['String']['output']>;
  readonly invented: Scalars['Boolean']['output'];
  readonly visibility?: Maybe<Visibility>;
  readonly embargoUntil?: Maybe<Scalars['DateTime']['output']>;
  readonly recalled?: Maybe<Recalled>;
  readonly note?: Maybe<Scalars['String']['output']>;
  readonly productLines?: Maybe<ProductLineConnection>;
  readonly devices?: Maybe<DeviceConnection>;
  readonly parts?: Maybe<PartConnection>;
};


export type MakerProductLinesArgs = {
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type MakerDevicesArgs = {
  orderBy: DeviceOrder;
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type MakerPartsArgs = {
  orderBy: PartOrder;
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};

export type ProductLine = Node & {
  readonly id: Scalars['ID']['output'];
  readonly name: Scalars['String']['output'];
  readonly maker?: Maybe<Maker>;
  readonly visibility?: Maybe<Visibility>;
  readonly embargoUntil?: Maybe<Scalars['DateTime']['output']>;
  readonly recalled?: Maybe<Recalled>;
  readonly note?: Maybe<Scalars['String']['output']>;
  readonly devices?: Maybe<DeviceConnection>;
};


export type ProductLineDevicesArgs = {
  orderBy: DeviceOrder;
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};

export type MakerConnection = {
  readonly edges: ReadonlyArray<MakerEdge>;
  readonly nodes: ReadonlyArray<Maker>;
  readonly pageInfo: PageInfo;
  readonly totalCount: Scalars['Int']['output'];
};

export type MakerEdge = {
  readonly cursor: Scalars['String']['output'];
  readonly node: Maker;
};

export type ProductLineConnection = {
  readonly edges: ReadonlyArray<ProductLineEdge>;
  readonly nodes: ReadonlyArray<ProductLine>;
  readonly pageInfo: PageInfo;
  readonly totalCount: Scalars['Int']['output'];
};

export type ProductLineEdge = {
  readonly cursor: Scalars['String']['output'];
  readonly node: ProductLine;
};

export type PictureSizeInput = {
  readonly widthPx: Scalars['Int']['input'];
  readonly heightPx: Scalars['Int']['input'];
};

export type PhotoSpotInput = {
  readonly left: Scalars['Float']['input'];
  readonly top: Scalars['Float']['input'];
};

export type PhotoPointInput = {
  readonly at: PhotoSpotInput;
  readonly x: Scalars['Float']['input'];
  readonly y: Scalars['Float']['input'];
  readonly within?: InputMaybe<Scalars['Float']['input']>;
};

export type PhotoLengthInput = {
  readonly from: PhotoSpotInput;
  readonly to: PhotoSpotInput;
  readonly is?: InputMaybe<Scalars['Float']['input']>;
  readonly within: Scalars['Float']['input'];
};

export type PhotoBodyInput = {
  readonly corners?: InputMaybe<ReadonlyArray<PhotoSpotInput>>;
  readonly box?: InputMaybe<PhotoBoxInput>;
  readonly rotation?: InputMaybe<Scalars['Float']['input']>;
};

export type PhotoBoxInput = {
  readonly left: Scalars['Float']['input'];
  readonly top: Scalars['Float']['input'];
  readonly width: Scalars['Float']['input'];
  readonly height: Scalars['Float']['input'];
};

export type PhotoPlane =
  | 'SCALE'
  | 'PARALLEL'
  | 'PERSPECTIVE';

export type LensBendingKind =
  | 'BARREL'
  | 'PINCUSHION'
  | 'NOT_SEEN';

export type AgreementVerdict =
  | 'AGREES'
  | 'DOUBTFUL'
  | 'DISAGREES';

export type MeasuredLength = {
  readonly value: Scalars['Float']['output'];
  readonly low: Scalars['Float']['output'];
  readonly high: Scalars['Float']['output'];
  readonly uncertainty: Scalars['Float']['output'];
};

export type MeasuredAngle = {
  readonly value: Scalars['Float']['output'];
  readonly low: Scalars['Float']['output'];
  readonly high: Scalars['Float']['output'];
  readonly uncertainty: Scalars['Float']['output'];
};

export type MeasuredPercentage = {
  readonly value: Scalars['Float']['output'];
  readonly low: Scalars['Float']['output'];
  readonly high: Scalars['Float']['output'];
  readonly uncertainty: Scalars['Float']['output'];
};

export type PhotoSpot = {
  readonly left: Scalars['Float']['output'];
  readonly top: Scalars['Float']['output'];
};

export type PhotoPoint = {
  readonly at: PhotoSpot;
  readonly x: Scalars['Float']['output'];
  readonly y: Scalars['Float']['output'];
  readonly within?: Maybe<Scalars['Float']['output']>;
};

export type PhotoMeasurement = {
  readonly photo?: Maybe<Photo>;
  readonly side: Side;
  readonly plane: PhotoPlane;
  readonly points: ReadonlyArray<FittedPoint>;
  readonly degreesOfFreedom: Scalars['Int']['output'];
  readonly residualPx?: Maybe<Scalars['Float']['output']>;
  readonly residualMm?: Maybe<Scalars['Float']['output']>;
  readonly fitProbability?: Maybe<Scalars['Float']['output']>;
  readonly scatter: Scalars['Float']['output'];
  readonly mmPerPxLeast: Scalars['Float']['output'];
  readonly mmPerPxMost: Scalars['Float']['output'];
  readonly tilt?: Maybe<MeasuredAngle>;
  readonly cameraDistance?: Maybe<MeasuredLength>;
  readonly tiltEffects: ReadonlyArray<TiltEffect>;
  readonly bending?: Maybe<LensBending>;
  readonly places: ReadonlyArray<MeasuredPlace>;
  readonly lengths: ReadonlyArray<PhotoLength>;
  readonly scale?: Maybe<ScaleCheck>;
  readonly bodies: ReadonlyArray<PhotoBody>;
  readonly components: ReadonlyArray<PhotoComponent>;
  readonly cautions: ReadonlyArray<Scalars['String']['output']>;
};

export type FittedPoint = {
  readonly point: PhotoPoint;
  readonly rightPx: Scalars['Float']['output'];
  readonly downPx: Scalars['Float']['output'];
  readonly xMm: Scalars['Float']['output'];
  readonly yMm: Scalars['Float']['output'];
  readonly standsOutMm?: Maybe<Scalars['Float']['output']>;
};

export type TiltEffect = {
  readonly tilt: Scalars['Float']['output'];
  readonly percent: Scalars['Float']['output'];
  readonly percentNear: Scalars['Float']['output'];
};

export type LensBending = {
  readonly kind: LensBendingKind;
  readonly corners: MeasuredPercentage;
  readonly leftMm: Scalars['Float']['output'];
};

export type MeasuredPlace = {
  readonly x: MeasuredLength;
  readonly y: MeasuredLength;
  readonly isOutside: Scalars['Boolean']['output'];
};

export type PhotoLength = {
  readonly length: MeasuredLength;
  readonly known?: Maybe<Scalars['Float']['output']>;
  readonly agreement?: Maybe<MeasurementAgreement>;
};

export type ScaleCheck = {
  readonly lengths: Scalars['Int']['output'];
  readonly inside: Scalars['Int']['output'];
  readonly tooLong: MeasuredPercentage;
  readonly isOff: Scalars['Boolean']['output'];
  readonly alongX?: Maybe<MeasuredPercentage>;
  readonly alongY?: Maybe<MeasuredPercentage>;
  readonly sentence: Scalars['String']['output'];
};

export type PhotoBody = {
  readonly x?: Maybe<MeasuredLength>;
  readonly y?: Maybe<MeasuredLength>;
  readonly length?: Maybe<MeasuredLength>;
  readonly width?: Maybe<MeasuredLength>;
  readonly rotation?: Maybe<MeasuredAngle>;
  readonly parallax?: Maybe<Scalars['Float']['output']>;
  readonly problem?: Maybe<Scalars['String']['output']>;
};

export type PhotoComponent = {
  readonly component: Component;
  readonly body: PhotoBody;
  readonly parallaxMm?: Maybe<Scalars['Float']['output']>;
  readonly position?: Maybe<MeasurementAgreement>;
  readonly length?: Maybe<MeasurementAgreement>;
  readonly width?: Maybe<MeasurementAgreement>;
  readonly part?: Maybe<Part>;
  readonly partLength?: Maybe<MeasurementAgreement>;
  readonly partWidth?: Maybe<MeasurementAgreement>;
};

export type MeasurementAgreement = {
  readonly difference: Scalars['Float']['output'];
  readonly inUncertainties: Scalars['Float']['output'];
  readonly chance: Scalars['Float']['output'];
  readonly verdict: AgreementVerdict;
  readonly sentence: Scalars['String']['output'];
};

export type Net = Node & {
  readonly id: Scalars['ID']['output'];
  readonly specimen: Specimen;
  readonly label?: Maybe<Scalars['String']['output']>;
  readonly kind: NetKind;
  readonly voltage?: Maybe<Quantity>;
  readonly bus?: Maybe<Bus>;
  readonly pins?: Maybe<NetPinConnection>;
  readonly isComplete: Scalars['Boolean']['output'];
  readonly medium?: Maybe<Medium>;
  readonly basis: ReadonlyArray<Observation>;
  readonly observations?: Maybe<ObservationConnection>;
  readonly note?: Maybe<Scalars['String']['output']>;
};


export type NetPinsArgs = {
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type NetObservationsArgs = {
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};

export type NetKind =
  | 'GROUND'
  | 'POWER'
  | 'SIGNAL';

export type NetPin = {
  readonly component: Component;
  readonly number?: Maybe<Scalars['String']['output']>;
  readonly name?: Maybe<Scalars['String']['output']>;
  readonly direction?: Maybe<PinDirection>;
  readonly function?: Maybe<PinFunction>;
  readonly output?: Maybe<Scalars['String']['output']>;
};

export type Pin = {
  readonly number?: Maybe<Scalars['String']['output']>;
  readonly name?: Maybe<Scalars['String']['output']>;
  readonly direction?: Maybe<PinDirection>;
  readonly function?: Maybe<PinFunction>;
  readonly output?: Maybe<Scalars['String']['output']>;
  readonly net?: Maybe<Net>;
};

export type MatedPair = {
  readonly first: Scalars['String']['output'];
  readonly second: Scalars['String']['output'];
};

export type PinDirection =
  | 'INPUT'
  | 'OUTPUT'
  | 'BIDIRECTIONAL'
  | 'OPEN_DRAIN'
  | 'PASSIVE'
  | 'POWER_INPUT'
  | 'POWER_OUTPUT'
  | 'NOT_CONNECTED';

export type PinFunction =
  | 'GROUND'
  | 'SUPPLY_INPUT'
  | 'SUPPLY_OUTPUT'
  | 'SWITCHED_OUTPUT'
  | 'SWITCH_NODE'
  | 'BATTERY'
  | 'FEEDBACK'
  | 'BYPASS'
  | 'ENABLE'
  | 'REFERENCE'
  | 'CLOCK'
  | 'DATA'
  | 'CHIP_SELECT'
  | 'INTERRUPT'
  | 'RESET'
  | 'CRYSTAL'
  | 'ANTENNA'
  | 'ANALOGUE_INPUT'
  | 'ANALOGUE_OUTPUT'
  | 'DRIVE_OUTPUT'
  | 'DEBUG'
  | 'GATE'
  | 'DRAIN'
  | 'SOURCE'
  | 'ANODE'
  | 'CATHODE'
  | 'NOT_CONNECTED'
  | 'OTHER';

export type NetConnection = {
  readonly edges: ReadonlyArray<NetEdge>;
  readonly nodes: ReadonlyArray<Net>;
  readonly pageInfo: PageInfo;
  readonly totalCount: Scalars['Int']['output'];
};

export type NetEdge = {
  readonly cursor: Scalars['String']['output'];
  readonly node: Net;
};

export type NetPinConnection = {
  readonly edges: ReadonlyArray<NetPinEdge>;
  readonly nodes: ReadonlyArray<NetPin>;
  readonly pageInfo: PageInfo;
  readonly totalCount: Scalars['Int']['output'];
};

export type NetPinEdge = {
  readonly cursor: Scalars['String']['output'];
  readonly node: NetPin;
};

export type Pack = {
  readonly address: Scalars['String']['output'];
  readonly digest: Scalars['String']['output'];
  readonly files: ReadonlyArray<PackFile>;
  readonly leftOut: ReadonlyArray<PackGap>;
  readonly changes?: Maybe<ReadonlyArray<PackDifference>>;
};


export type PackChangesArgs = {
  since: Scalars['String']['input'];
};

export type PackFile = {
  readonly path: Scalars['String']['output'];
  readonly mediaType: Scalars['String']['output'];
  readonly title: Scalars['String']['output'];
  readonly sentences: ReadonlyArray<Scalars['ID']['output']>;
};

export type PackGap = {
  readonly id: Scalars['ID']['output'];
  readonly why: Scalars['String']['output'];
};

export type PackDifference = {
  readonly sentence: Scalars['ID']['output'];
  readonly figure?: Maybe<Scalars['Int']['output']>;
  readonly statement: Scalars['String']['output'];
  readonly isThere: Scalars['Boolean']['output'];
  readonly changes: ReadonlyArray<PackChange>;
  readonly because: ReadonlyArray<Scalars['String']['output']>;
};

export type PackChange = {
  readonly what: Scalars['String']['output'];
  readonly was: Scalars['String']['output'];
  readonly is: Scalars['String']['output'];
};

export type Part = Node & {
  readonly id: Scalars['ID']['output'];
  readonly number: Scalars['String']['output'];
  readonly maker?: Maybe<Maker>;
  readonly name?: Maybe<Scalars['String']['output']>;
  readonly categories: ReadonlyArray<Scalars['String']['output']>;
  readonly package?: Maybe<Scalars['String']['output']>;
  readonly pins?: Maybe<Scalars['Int']['output']>;
  readonly pinout: ReadonlyArray<Pin>;
  readonly body?: Maybe<BodySize>;
  readonly markings: ReadonlyArray<Scalars['String']['output']>;
  readonly introduced?: Maybe<Scalars['PartialDate']['output']>;
  readonly discontinued?: Maybe<Scalars['PartialDate']['output']>;
  readonly relabels?: Maybe<Part>;
  readonly relabelledAs: ReadonlyArray<Part>;
  readonly parameters: ReadonlyArray<Parameter>;
  readonly visibility?: Maybe<Visibility>;
  readonly embargoUntil?: Maybe<Scalars['DateTime']['output']>;
  readonly recalled?: Maybe<Recalled>;
  readonly note?: Maybe<Scalars['String']['output']>;
  readonly specimens?: Maybe<PartUseConnection>;
  readonly components?: Maybe<ComponentConnection>;
};


export type PartSpecimensArgs = {
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type PartComponentsArgs = {
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};

export type Parameter = {
  readonly name: Scalars['String']['output'];
  readonly meaning: Scalars['String']['output'];
  readonly quantity?: Maybe<Quantity>;
  readonly text?: Maybe<Scalars['String']['output']>;
  readonly flag?: Maybe<Scalars['Boolean']['output']>;
  readonly count?: Maybe<Scalars['Int']['output']>;
};

export type PartUse = {
  readonly specimen: Specimen;
  readonly part: Part;
  readonly probability: Scalars['Float']['output'];
};

export type PartFilter = {
  readonly makers?: InputMaybe<ReadonlyArray<Scalars['ID']['input']>>;
  readonly category?: InputMaybe<Scalars['String']['input']>;
  readonly package?: InputMaybe<Scalars['String']['input']>;
  readonly introducedFrom?: InputMaybe<Scalars['PartialDate']['input']>;
  readonly introducedTo?: InputMaybe<Scalars['PartialDate']['input']>;
  readonly seen?: InputMaybe<Scalars['Boolean']['input']>;
};

export type PartOrderField =
  | 'ID'
  | 'INTRODUCED'
  | 'USE';

export type PartOrder = {
  readonly field: PartOrderField;
  readonly direction: Direction;
};

export type PartConnection = {
  readonly edges: ReadonlyArray<PartEdge>;
  readonly nodes: ReadonlyArray<Part>;
  readonly pageInfo: PageInfo;
  readonly totalCount: Scalars['Int']['output'];
};

export type PartEdge = {
  readonly cursor: Scalars['String']['output'];
  readonly node: Part;
};

export type PartUseConnection = {
  readonly edges: ReadonlyArray<PartUseEdge>;
  readonly nodes: ReadonlyArray<PartUse>;
  readonly pageInfo: PageInfo;
  readonly totalCount: Scalars['Int']['output'];
};

export type PartUseEdge = {
  readonly cursor: Scalars['String']['output'];
  readonly node: PartUse;
};

export type Pattern = Node & {
  readonly id: Scalars['ID']['output'];
  readonly name: Scalars['String']['output'];
  readonly idea: Scalars['String']['output'];
  readonly text: Scalars['String']['output'];
  readonly reasons: ReadonlyArray<Scalars['String']['output']>;
  readonly against: ReadonlyArray<Scalars['String']['output']>;
  readonly strength: Scalars['Float']['output'];
  readonly note?: Maybe<Scalars['String']['output']>;
  readonly visibility?: Maybe<Visibility>;
  readonly embargoUntil?: Maybe<Scalars['DateTime']['output']>;
  readonly recalled?: Maybe<Recalled>;
  readonly check?: Maybe<DesignCheck>;
};

export type PatternDevice = {
  readonly device?: Maybe<Device>;
  readonly isCertain: Scalars['Boolean']['output'];
  readonly probability: Scalars['Float']['output'];
  readonly method: ProbabilityMethod;
  readonly low: Scalars['Float']['output'];
  readonly high: Scalars['Float']['output'];
  readonly matchCount: Scalars['Int']['output'];
  readonly matches?: Maybe<PatternMatchConnection>;
};


export type PatternDeviceMatchesArgs = {
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};

export type ProbabilityMethod =
  | 'EXACT'
  | 'ESTIMATE';

export type PatternMatch = {
  readonly specimen?: Maybe<Specimen>;
  readonly bindings: ReadonlyArray<PatternBinding>;
  readonly isCertain: Scalars['Boolean']['output'];
  readonly probability: Scalars['Float']['output'];
  readonly drawings?: Maybe<ReadonlyArray<Drawing>>;
};


export type PatternMatchDrawingsArgs = {
  side?: InputMaybe<Side>;
  width?: InputMaybe<Scalars['Float']['input']>;
};

export type PatternBinding = {
  readonly variable: Scalars['String']['output'];
  readonly ids: ReadonlyArray<Scalars['ID']['output']>;
  readonly nodes: ReadonlyArray<Node>;
};

export type PatternFacets = {
  readonly makers: ReadonlyArray<PatternFacet>;
  readonly years: ReadonlyArray<PatternFacet>;
  readonly bodySites: ReadonlyArray<PatternFacet>;
};

export type PatternFacet = {
  readonly value: Scalars['String']['output'];
  readonly count: Scalars['Int']['output'];
  readonly expected: Scalars['Float']['output'];
};

export type PatternNearMatch = {
  readonly device?: Maybe<Device>;
  readonly missing: ReadonlyArray<Scalars['String']['output']>;
};

export type PatternSearched = {
  readonly specimens: Scalars['Int']['output'];
  readonly of: Scalars['Int']['output'];
};

export type PatternRows = {
  readonly columns: ReadonlyArray<Scalars['String']['output']>;
  readonly rows: ReadonlyArray<ReadonlyArray<Maybe<Scalars['PatternValue']['output']>>>;
  readonly isComplete: Scalars['Boolean']['output'];
  readonly note?: Maybe<Scalars['String']['output']>;
  readonly searched?: Maybe<PatternSearched>;
  readonly warnings: ReadonlyArray<Scalars['String']['output']>;
};

export type PatternConnection = {
  readonly edges: ReadonlyArray<PatternEdge>;
  readonly nodes: ReadonlyArray<Pattern>;
  readonly pageInfo: PageInfo;
  readonly totalCount: Scalars['Int']['output'];
};

export type PatternEdge = {
  readonly cursor: Scalars['String']['output'];
  readonly node: Pattern;
};

export type PatternDeviceConnection = {
  readonly edges: ReadonlyArray<PatternDeviceEdge>;
  readonly nodes: ReadonlyArray<PatternDevice>;
  readonly pageInfo: PageInfo;
  readonly totalCount: Scalars['Int']['output'];
  readonly certainCount: Scalars['Int']['output'];
  readonly expectedCount: Scalars['Float']['output'];
  readonly variables: ReadonlyArray<Scalars['String']['output']>;
  readonly warnings: ReadonlyArray<Scalars['String']['output']>;
  readonly isComplete: Scalars['Boolean']['output'];
  readonly note?: Maybe<Scalars['String']['output']>;
  readonly searched?: Maybe<PatternSearched>;
  readonly facets: PatternFacets;
  readonly nearMatches?: Maybe<PatternNearMatchConnection>;
};


export type PatternDeviceConnectionNearMatchesArgs = {
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};

export type PatternDeviceEdge = {
  readonly cursor: Scalars['String']['output'];
  readonly node: PatternDevice;
};

export type PatternMatchConnection = {
  readonly edges: ReadonlyArray<PatternMatchEdge>;
  readonly nodes: ReadonlyArray<PatternMatch>;
  readonly pageInfo: PageInfo;
  readonly totalCount: Scalars['Int']['output'];
};

export type PatternMatchEdge = {
  readonly cursor: Scalars['String']['output'];
  readonly node: PatternMatch;
};

export type PatternNearMatchConnection = {
  readonly edges: ReadonlyArray<PatternNearMatchEdge>;
  readonly nodes: ReadonlyArray<PatternNearMatch>;
  readonly pageInfo: PageInfo;
  readonly totalCount: Scalars['Int']['output'];
  readonly isComplete: Scalars['Boolean']['output'];
  readonly note?: Maybe<Scalars['String']['output']>;
};

export type PatternNearMatchEdge = {
  readonly cursor: Scalars['String']['output'];
  readonly node: PatternNearMatch;
};

export type SqlDialect =
  | 'POSTGRES'
  | 'DUCKDB';

export type Role =
  | 'READER'
  | 'CONTRIBUTOR'
  | 'EDITOR'
  | 'ADMINISTRATOR';

export type PersonState =
  | 'ENABLED'
  | 'DISABLED'
  | 'REMOVED';

export type Asker = {
  readonly name?: Maybe<Scalars['String']['output']>;
  readonly displayName?: Maybe<Scalars['String']['output']>;
  readonly role: Role;
  readonly expires?: Maybe<Scalars['DateTime']['output']>;
  readonly isLocal: Scalars['Boolean']['output'];
};

export type Person = {
  readonly name: Scalars['String']['output'];
  readonly displayName?: Maybe<Scalars['String']['output']>;
  readonly role: Role;
  readonly state: PersonState;
  readonly added: Scalars['DateTime']['output'];
  readonly tokens: ReadonlyArray<Token>;
};

export type Token = {
  readonly id: Scalars['ID']['output'];
  readonly label?: Maybe<Scalars['String']['output']>;
  readonly created: Scalars['DateTime']['output'];
  readonly expires: Scalars['DateTime']['output'];
  readonly lastUsed?: Maybe<Scalars['DateTime']['output']>;
};

export type DisablePersonInput = {
  readonly name: Scalars['String']['input'];
};

export type DisablePersonPayload = {
  readonly person: Person;
};

export type RevokeTokenInput = {
  readonly id: Scalars['ID']['input'];
};

export type RevokeTokenPayload = {
  readonly id: Scalars['ID']['output'];
};

export type PersonConnection = {
  readonly edges: ReadonlyArray<PersonEdge>;
  readonly nodes: ReadonlyArray<Person>;
  readonly pageInfo: PageInfo;
  readonly totalCount: Scalars['Int']['output'];
};

export type PersonEdge = {
  readonly cursor: Scalars['String']['output'];
  readonly node: Person;
};

export type Thumbnail = {
  readonly address: Scalars['String']['output'];
  readonly widthPx: Scalars['Int']['output'];
  readonly heightPx: Scalars['Int']['output'];
};

export type StepPicture = {
  readonly photo: Photo;
  readonly fragment?: Maybe<Scalars['String']['output']>;
  readonly thumbnail?: Maybe<Thumbnail>;
};

export type AddPhotoInput = {
  readonly specimen: Scalars['ID']['input'];
  readonly id: Scalars['String']['input'];
  readonly sha256: Scalars['String']['input'];
  readonly caption?: InputMaybe<Scalars['String']['input']>;
  readonly credit: Scalars['String']['input'];
  readonly licence: Scalars['String']['input'];
  readonly board?: InputMaybe<Scalars['String']['input']>;
  readonly side?: InputMaybe<Side>;
  readonly points?: InputMaybe<ReadonlyArray<PhotoPointInput>>;
  readonly regions: ReadonlyArray<PhotoRegionInput>;
  readonly actor?: InputMaybe<Scalars['String']['input']>;
  readonly reason: Scalars['String']['input'];
};

export type PhotoRegionInput = {
  readonly of: Scalars['String']['input'];
  readonly box?: InputMaybe<PhotoBoxInput>;
  readonly corners?: InputMaybe<ReadonlyArray<PhotoSpotInput>>;
};

export type ChangePhotoInput = {
  readonly photo: Scalars['ID']['input'];
  readonly caption?: InputMaybe<Scalars['String']['input']>;
  readonly credit?: InputMaybe<Scalars['String']['input']>;
  readonly licence?: InputMaybe<Scalars['String']['input']>;
  readonly board?: InputMaybe<Scalars['String']['input']>;
  readonly side?: InputMaybe<Side>;
  readonly points?: InputMaybe<ReadonlyArray<PhotoPointInput>>;
  readonly regions?: InputMaybe<ReadonlyArray<PhotoRegionInput>>;
  readonly recordDigest?: InputMaybe<Scalars['String']['input']>;
  readonly actor?: InputMaybe<Scalars['String']['input']>;
  readonly reason: Scalars['String']['input'];
};

export type PhotoMeasurementKind =
  | 'POSITION'
  | 'BODY_SIZE';

export type RecordMeasurementInput = {
  readonly photo: Scalars['ID']['input'];
  readonly component: Scalars['String']['input'];
  readonly kind: PhotoMeasurementKind;
  readonly id: Scalars['String']['input'];
  readonly body?: InputMaybe<PhotoBodyInput>;
  readonly picked: Scalars['Float']['input'];
  readonly cameraDistance?: InputMaybe<Scalars['Float']['input']>;
  readonly on?: InputMaybe<Scalars['PartialDate']['input']>;
  readonly by?: InputMaybe<Scalars['String']['input']>;
  readonly corrects?: InputMaybe<Scalars['String']['input']>;
  readonly actor?: InputMaybe<Scalars['String']['input']>;
  readonly reason: Scalars['String']['input'];
};

export type AddPhotoPayload = {
  readonly photo?: Maybe<Photo>;
  readonly entry: JournalEntry;
  readonly cautions: ReadonlyArray<ChangeCaution>;
};

export type ChangePhotoPayload = {
  readonly photo?: Maybe<Photo>;
  readonly entry: JournalEntry;
  readonly cautions: ReadonlyArray<ChangeCaution>;
};

export type RecordMeasurementPayload = {
  readonly observation?: Maybe<Observation>;
  readonly entry: JournalEntry;
  readonly cautions: ReadonlyArray<ChangeCaution>;
};

export type PhotoLikeness =
  | 'SAME_FILE'
  | 'SAME_PICTURE'
  | 'NEAR_COPY';

export type AlikePhoto = {
  readonly photo: Photo;
  readonly likeness: PhotoLikeness;
  readonly bitsApart: Scalars['Int']['output'];
};

export type PresenceVerdict =
  | 'CERTAIN'
  | 'POSSIBLE'
  | 'ABSENT'
  | 'NOT_OBSERVED';

export type PresenceSubjectInput = {
  readonly category?: InputMaybe<Scalars['String']['input']>;
  readonly part?: InputMaybe<Scalars['ID']['input']>;
  readonly maker?: InputMaybe<Scalars['ID']['input']>;
  readonly pattern?: InputMaybe<Scalars['ID']['input']>;
};

export type DevicePresence = {
  readonly verdict: PresenceVerdict;
  readonly probability: Scalars['Float']['output'];
  readonly expected: Scalars['Float']['output'];
  readonly certain: Scalars['Int']['output'];
  readonly likely: Scalars['Int']['output'];
  readonly possible: Scalars['Int']['output'];
  readonly why: Scalars['String']['output'];
  readonly hasDifferingRevisions: Scalars['Boolean']['output'];
  readonly specimens: ReadonlyArray<SpecimenPresence>;
};

export type SpecimenPresence = {
  readonly specimen: Scalars['ID']['output'];
  readonly verdict: PresenceVerdict;
  readonly probability: Scalars['Float']['output'];
  readonly expected: Scalars['Float']['output'];
  readonly certain: Scalars['Int']['output'];
  readonly likely: Scalars['Int']['output'];
  readonly possible: Scalars['Int']['output'];
};

export type PublicationKind =
  | 'ARTICLE'
  | 'VIDEO'
  | 'NEWSLETTER'
  | 'FIGURE';

export type Publication = Node & {
  readonly id: Scalars['ID']['output'];
  readonly kind: PublicationKind;
  readonly title: Scalars['String']['output'];
  readonly published?: Maybe<Scalars['PartialDate']['output']>;
  readonly visibility: Visibility;
  readonly embargoUntil?: Maybe<Scalars['DateTime']['output']>;
  readonly recalled?: Maybe<Recalled>;
  readonly claims: ReadonlyArray<Claim>;
  readonly note?: Maybe<Scalars['String']['output']>;
  readonly citation: Scalars['Json']['output'];
  readonly corrections?: Maybe<ReadonlyArray<Correction>>;
  readonly pack?: Maybe<Pack>;
};

export type Claim = Node & {
  readonly id: Scalars['ID']['output'];
  readonly publication?: Maybe<Publication>;
  readonly sentence: Scalars['String']['output'];
  readonly supportedBy?: Maybe<ReadonlyArray<Node>>;
  readonly probability?: Maybe<Scalars['Float']['output']>;
  readonly by?: Maybe<Scalars['String']['output']>;
  readonly note?: Maybe<Scalars['String']['output']>;
  readonly visibility?: Maybe<Visibility>;
  readonly embargoUntil?: Maybe<Scalars['DateTime']['output']>;
  readonly audit?: Maybe<AuditedClaim>;
  readonly photos?: Maybe<ReadonlyArray<ClaimPhoto>>;
};

export type SourceKind =
  | 'STANDARD'
  | 'FILING'
  | 'DATA_SHEET'
  | 'PAPER'
  | 'PRESS'
  | 'CORRESPONDENCE'
  | 'OTHER';

export type Source = Node & {
  readonly id: Scalars['ID']['output'];
  readonly kind: SourceKind;
  readonly title: Scalars['String']['output'];
  readonly url?: Maybe<Scalars['String']['output']>;
  readonly licence?: Maybe<Scalars['String']['output']>;
  readonly accessed?: Maybe<Scalars['PartialDate']['output']>;
  readonly note?: Maybe<Scalars['String']['output']>;
  readonly citation: Scalars['Json']['output'];
  readonly visibility?: Maybe<Visibility>;
  readonly embargoUntil?: Maybe<Scalars['DateTime']['output']>;
  readonly recalled?: Maybe<Recalled>;
};

export type PublicationConnection = {
  readonly edges: ReadonlyArray<PublicationEdge>;
  readonly nodes: ReadonlyArray<Publication>;
  readonly pageInfo: PageInfo;
  readonly totalCount: Scalars['Int']['output'];
};

export type PublicationEdge = {
  readonly cursor: Scalars['String']['output'];
  readonly node: Publication;
};

export type SimilarDevices = {
  readonly of: ComparedDevice;
  readonly comparedWith: Scalars['Int']['output'];
  readonly devices: ReadonlyArray<SimilarDevice>;
};

export type SimilarDevice = {
  readonly device: Device;
  readonly specimen?: Maybe<Specimen>;
  readonly similarity: Scalars['Float']['output'];
  readonly shared?: Maybe<ReadonlyArray<SharedNeighbourhood>>;
};


export type SimilarDeviceSharedArgs = {
  first: Scalars['Int']['input'];
};

export type SharedNeighbourhood = {
  readonly steps: Scalars['Int']['output'];
  readonly words: Scalars['String']['output'];
  readonly inFirst: Scalars['Int']['output'];
  readonly inSecond: Scalars['Int']['output'];
  readonly share: Scalars['Float']['output'];
};

export type DeviceClusters = {
  readonly clusters: ReadonlyArray<DeviceCluster>;
  readonly devices: Scalars['Int']['output'];
  readonly modularity: Scalars['Float']['output'];
};

export type DeviceCluster = {
  readonly typical: Device;
  readonly members?: Maybe<ClusterMemberConnection>;
  readonly marks: ReadonlyArray<ClusterMark>;
};


export type DeviceClusterMembersArgs = {
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};

export type ClusterMember = {
  readonly device: Device;
  readonly similarity: Scalars['Float']['output'];
};

export type ClusterMark = {
  readonly words: Scalars['String']['output'];
  readonly inside: Scalars['Int']['output'];
  readonly outside: Scalars['Int']['output'];
};

export type CircuitDistance = {
  readonly distance?: Maybe<Scalars['Int']['output']>;
  readonly atLeast: Scalars['Int']['output'];
  readonly atMost: Scalars['Int']['output'];
  readonly method: CircuitDistanceMethod;
  readonly relabelled: Scalars['Int']['output'];
  readonly nodesRemoved: Scalars['Int']['output'];
  readonly nodesAdded: Scalars['Int']['output'];
  readonly edgesRemoved: Scalars['Int']['output'];
  readonly edgesAdded: Scalars['Int']['output'];
  readonly nodes?: Maybe<CircuitNodeConnection>;
};


export type CircuitDistanceNodesArgs = {
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};

export type CircuitDistanceMethod =
  | 'SEARCH'
  | 'BOUNDS_MEET'
  | 'BOUNDS';

export type CircuitNodeConnection = {
  readonly edges: ReadonlyArray<CircuitNodeEdge>;
  readonly nodes: ReadonlyArray<CircuitNode>;
  readonly pageInfo: PageInfo;
  readonly totalCount: Scalars['Int']['output'];
};

export type CircuitNodeEdge = {
  readonly cursor: Scalars['String']['output'];
  readonly node: CircuitNode;
};

export type CircuitNode = {
  readonly from?: Maybe<Scalars['String']['output']>;
  readonly to?: Maybe<Scalars['String']['output']>;
  readonly kindBefore?: Maybe<Scalars['String']['output']>;
  readonly kindAfter?: Maybe<Scalars['String']['output']>;
};

export type ClusterMemberConnection = {
  readonly edges: ReadonlyArray<ClusterMemberEdge>;
  readonly nodes: ReadonlyArray<ClusterMember>;
  readonly pageInfo: PageInfo;
  readonly totalCount: Scalars['Int']['output'];
};

export type ClusterMemberEdge = {
  readonly cursor: Scalars['String']['output'];
  readonly node: ClusterMember;
};

export type Condition =
  | 'INTACT'
  | 'WORN'
  | 'DAMAGED_BEFORE'
  | 'DAMAGED_IN_OPENING';

export type Recalled = {
  readonly by: Scalars['String']['output'];
  readonly on: Scalars['DateTime']['output'];
  readonly reason: Scalars['String']['output'];
};

export type Visibility =
  | 'PUBLISHED'
  | 'DRAFT'
  | 'EMBARGOED';

export type BoardKind =
  | 'RIGID'
  | 'FLEX'
  | 'RIGID_FLEX'
  | 'SUBSTRATE'
  | 'MODULE';

export type Side =
  | 'TOP'
  | 'BOTTOM';

export type SubsystemKind =
  | 'SENSING'
  | 'PROCESSING'
  | 'POWER'
  | 'RADIO'
  | 'DISPLAY'
  | 'HAPTICS'
  | 'AUDIO'
  | 'STORAGE'
  | 'INTERCONNECT'
  | 'ANTENNA'
  | 'ENCLOSURE';

export type Medium =
  | 'TRACE'
  | 'FLEX'
  | 'WIRE'
  | 'CONTACT'
  | 'RF_FEED'
  | 'OPTICAL_PATH'
  | 'ADHESIVE'
  | 'SCREW';

export type Bus =
  | 'I2C'
  | 'I3C'
  | 'SPI'
  | 'QSPI'
  | 'UART'
  | 'I2S'
  | 'PDM'
  | 'USB'
  | 'MIPI_DSI'
  | 'SDIO'
  | 'SWD'
  | 'JTAG'
  | 'GPIO'
  | 'ANALOGUE'
  | 'POWER'
  | 'RF';

export type ObservationKind =
  | 'MARKING'
  | 'PACKAGE'
  | 'BODY_SIZE'
  | 'PIN_COUNT'
  | 'TRACE'
  | 'POSITION'
  | 'APPEARANCE'
  | 'MEASUREMENT'
  | 'PROBE'
  | 'X_RAY'
  | 'CONDITION';

export type IdentificationState =
  | 'PROPOSED'
  | 'FAVOURED'
  | 'SETTLED'
  | 'WITHDRAWN';

export type Specimen = Node & {
  readonly id: Scalars['ID']['output'];
  readonly device?: Maybe<Device>;
  readonly revision?: Maybe<Scalars['String']['output']>;
  readonly bought?: Maybe<Scalars['PartialDate']['output']>;
  readonly region?: Maybe<Scalars['String']['output']>;
  readonly serial?: Maybe<Scalars['String']['output']>;
  readonly condition: Condition;
  readonly note?: Maybe<Scalars['String']['output']>;
  readonly visibility: Visibility;
  readonly embargoUntil?: Maybe<Scalars['DateTime']['output']>;
  readonly recalled?: Maybe<Recalled>;
  readonly teardown: Teardown;
  readonly boards: ReadonlyArray<Board>;
  readonly subsystems: ReadonlyArray<Subsystem>;
  readonly components?: Maybe<ComponentConnection>;
  readonly links?: Maybe<PhysicalLinkConnection>;
  readonly nets?: Maybe<NetConnection>;
  readonly observations?: Maybe<ObservationConnection>;
  readonly identifications?: Maybe<IdentificationConnection>;
  readonly photos: ReadonlyArray<Photo>;
  readonly kindCounts?: Maybe<ReadonlyArray<KindCount>>;
  readonly subsystemCounts: ReadonlyArray<SubsystemCount>;
  readonly blockDiagram?: Maybe<Drawing>;
  readonly photoManifestAddress?: Maybe<Scalars['String']['output']>;
  readonly presence?: Maybe<SpecimenPresence>;
  readonly feeds?: Maybe<PowerFeedConnection>;
  readonly signalPaths?: Maybe<SignalPathConnection>;
  readonly sharedBuses?: Maybe<SharedBusConnection>;
};


export type SpecimenComponentsArgs = {
  category?: InputMaybe<Scalars['String']['input']>;
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type SpecimenLinksArgs = {
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type SpecimenNetsArgs = {
  kind?: InputMaybe<NetKind>;
  bus?: InputMaybe<Bus>;
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type SpecimenObservationsArgs = {
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type SpecimenIdentificationsArgs = {
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type SpecimenKindCountsArgs = {
  above: Scalars['String']['input'];
};


export type SpecimenBlockDiagramArgs = {
  passives: Scalars['Boolean']['input'];
  lit?: InputMaybe<ReadonlyArray<Scalars['ID']['input']>>;
  width?: InputMaybe<Scalars['Float']['input']>;
};


export type SpecimenPresenceArgs = {
  of: PresenceSubjectInput;
};


export type SpecimenFeedsArgs = {
  component?: InputMaybe<Scalars['ID']['input']>;
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type SpecimenSignalPathsArgs = {
  component?: InputMaybe<Scalars['ID']['input']>;
  bus?: InputMaybe<Bus>;
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type SpecimenSharedBusesArgs = {
  component?: InputMaybe<Scalars['ID']['input']>;
  bus?: InputMaybe<Bus>;
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};

export type Teardown = Node & {
  readonly id: Scalars['ID']['output'];
  readonly specimen: Specimen;
  readonly on: Scalars['PartialDate']['output'];
  readonly by: Scalars['String']['output'];
  readonly recordedFrom: RecordSource;
  readonly place?: Maybe<Scalars['String']['output']>;
  readonly steps: ReadonlyArray<TeardownStep>;
  readonly hazards: ReadonlyArray<Scalars['String']['output']>;
  readonly cautions: ReadonlyArray<Scalars['String']['output']>;
  readonly note?: Maybe<Scalars['String']['output']>;
};

export type RecordSource =
  | 'BENCH'
  | 'DESIGN_FILES';

export type TeardownStep = {
  readonly number: Scalars['Int']['output'];
  readonly do: Scalars['String']['output'];
  readonly tool?: Maybe<Scalars['String']['output']>;
  readonly minutes?: Maybe<Scalars['Float']['output']>;
  readonly isDestructive: Scalars['Boolean']['output'];
  readonly hazards: ReadonlyArray<Scalars['String']['output']>;
  readonly cautions: ReadonlyArray<Scalars['String']['output']>;
  readonly pictures: ReadonlyArray<StepPicture>;
};

export type Board = Node & {
  readonly id: Scalars['ID']['output'];
  readonly specimen: Specimen;
  readonly name?: Maybe<Scalars['String']['output']>;
  readonly kind: BoardKind;
  readonly outline: ReadonlyArray<Point>;
  readonly holes: ReadonlyArray<Hole>;
  readonly length?: Maybe<Scalars['Float']['output']>;
  readonly width?: Maybe<Scalars['Float']['output']>;
  readonly area?: Maybe<Scalars['Float']['output']>;
  readonly sides: ReadonlyArray<Side>;
  readonly layers?: Maybe<Scalars['Int']['output']>;
  readonly fullyInventoried: Scalars['Boolean']['output'];
  readonly fullyTraced: Scalars['Boolean']['output'];
  readonly stackedOn?: Maybe<Board>;
  readonly components?: Maybe<ComponentConnection>;
  readonly links?: Maybe<PhysicalLinkConnection>;
  readonly note?: Maybe<Scalars['String']['output']>;
  readonly drawing?: Maybe<Drawing>;
  readonly planViews?: Maybe<ReadonlyArray<PlanView>>;
  readonly blockDiagram?: Maybe<Drawing>;
};


export type BoardComponentsArgs = {
  category?: InputMaybe<Scalars['String']['input']>;
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type BoardLinksArgs = {
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};


export type BoardDrawingArgs = {
  side?: InputMaybe<Side>;
  lit?: InputMaybe<ReadonlyArray<Scalars['ID']['input']>>;
  width?: InputMaybe<Scalars['Float']['input']>;
  plain: Scalars['Boolean']['input'];
  photoStrength?: InputMaybe<Scalars['Float']['input']>;
  photos?: InputMaybe<ReadonlyArray<Scalars['ID']['input']>>;
  pictures: PictureForm;
};


export type BoardPlanViewsArgs = {
  side?: InputMaybe<Side>;
  lit?: InputMaybe<ReadonlyArray<Scalars['ID']['input']>>;
  width?: InputMaybe<Scalars['Float']['input']>;
};


export type BoardBlockDiagramArgs = {
  passives: Scalars['Boolean']['input'];
  lit?: InputMaybe<ReadonlyArray<Scalars['ID']['input']>>;
  width?: InputMaybe<Scalars['Float']['input']>;
};

export type Hole = {
  readonly outline: ReadonlyArray<Point>;
};

export type Subsystem = Node & {
  readonly id: Scalars['ID']['output'];
  readonly specimen: Specimen;
  readonly kind: SubsystemKind;
  readonly name?: Maybe<Scalars['String']['output']>;
  readonly components?: Maybe<ComponentConnection>;
  readonly note?: Maybe<Scalars['String']['output']>;
};


export type SubsystemComponentsArgs = {
  category?: InputMaybe<Scalars['String']['input']>;
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};

export type PhysicalLink = {
  readonly ends: ReadonlyArray<Node>;
  readonly medium: Medium;
  readonly bus?: Maybe<Bus>;
  readonly lines?: Maybe<Scalars['Int']['output']>;
  readonly pins: ReadonlyArray<MatedPair>;
  readonly basis: ReadonlyArray<Observation>;
  readonly note?: Maybe<Scalars['String']['output']>;
};

export type Observation = Node & {
  readonly id: Scalars['ID']['output'];
  readonly specimen: Specimen;
  readonly kind: ObservationKind;
  readonly about: ReadonlyArray<Node>;
  readonly text?: Maybe<Scalars['String']['output']>;
  readonly marking?: Maybe<Scalars['String']['output']>;
  readonly value?: Maybe<Quantity>;
  readonly leadsTo: ReadonlyArray<Node>;
  readonly photo?: Maybe<Photo>;
  readonly suggestion?: Maybe<MarkingSuggestion>;
  readonly method?: Maybe<Scalars['String']['output']>;
  readonly on?: Maybe<Scalars['PartialDate']['output']>;
  readonly by?: Maybe<Scalars['String']['output']>;
  readonly corrects?: Maybe<Observation>;
  readonly cites: ReadonlyArray<Node>;
  readonly correctedBy: ReadonlyArray<Observation>;
  readonly note?: Maybe<Scalars['String']['output']>;
  readonly withdrawn?: Maybe<Withdrawal>;
};

export type MarkingSuggestion = {
  readonly by: Scalars['String']['output'];
  readonly marking: Scalars['String']['output'];
  readonly region?: Maybe<Scalars['String']['output']>;
  readonly turned?: Maybe<Scalars['Float']['output']>;
};

export type Photo = Node & {
  readonly id: Scalars['ID']['output'];
  readonly specimen: Specimen;
  readonly sha256: Scalars['String']['output'];
  readonly file?: Maybe<Scalars['String']['output']>;
  readonly caption?: Maybe<Scalars['String']['output']>;
  readonly credit: Scalars['String']['output'];
  readonly licence: Scalars['String']['output'];
  readonly regions: ReadonlyArray<PhotoRegion>;
  readonly picture?: Maybe<Picture>;
  readonly board?: Maybe<Board>;
  readonly side?: Maybe<Side>;
  readonly points: ReadonlyArray<PhotoPoint>;
  readonly annotations?: Maybe<Scalars['Json']['output']>;
  readonly alike?: Maybe<ReadonlyArray<AlikePhoto>>;
  readonly recordDigest: Scalars['String']['output'];
};


export type PhotoAnnotationsArgs = {
  base?: InputMaybe<Scalars['String']['input']>;
};

export type Picture = {
  readonly widthPx: Scalars['Int']['output'];
  readonly heightPx: Scalars['Int']['output'];
  readonly mediaType: Scalars['String']['output'];
  readonly bytes: Scalars['Int']['output'];
  readonly servedSha256: Scalars['String']['output'];
  readonly address: Scalars['String']['output'];
  readonly annotationsAddress: Scalars['String']['output'];
};

export type PhotoRegion = {
  readonly of?: Maybe<Node>;
  readonly fragment: Scalars['String']['output'];
  readonly step?: Maybe<TeardownStep>;
  readonly polygon?: Maybe<ReadonlyArray<PhotoSpot>>;
  readonly thumbnail?: Maybe<Thumbnail>;
};

export type PhysicalLinkConnection = {
  readonly edges: ReadonlyArray<PhysicalLinkEdge>;
  readonly nodes: ReadonlyArray<PhysicalLink>;
  readonly pageInfo: PageInfo;
  readonly totalCount: Scalars['Int']['output'];
};

export type PhysicalLinkEdge = {
  readonly cursor: Scalars['String']['output'];
  readonly node: PhysicalLink;
};

export type ObservationConnection = {
  readonly edges: ReadonlyArray<ObservationEdge>;
  readonly nodes: ReadonlyArray<Observation>;
  readonly pageInfo: PageInfo;
  readonly totalCount: Scalars['Int']['output'];
};

export type ObservationEdge = {
  readonly cursor: Scalars['String']['output'];
  readonly node: Observation;
};

export type SpecimenConnection = {
  readonly edges: ReadonlyArray<SpecimenEdge>;
  readonly nodes: ReadonlyArray<Specimen>;
  readonly pageInfo: PageInfo;
  readonly totalCount: Scalars['Int']['output'];
};

export type SpecimenEdge = {
  readonly cursor: Scalars['String']['output'];
  readonly node: Specimen;
};

export type StructureRelation =
  | 'FEEDS'
  | 'SIGNAL_PATH'
  | 'SHARES_NET'
  | 'SHARES_BUS'
  | 'CONNECTS';

export type StructureLinkKind =
  | 'BUS'
  | 'MEDIUM'
  | 'NONE';

export type StructureOrder =
  | 'SURPRISE'
  | 'LIFT'
  | 'SUPPORT'
  | 'YEAR';

export type StructureInterval = {
  readonly low: Scalars['Float']['output'];
  readonly high: Scalars['Float']['output'];
};

export type StructureLink = {
  readonly relation?: Maybe<StructureRelation>;
  readonly from: Scalars['Int']['output'];
  readonly to: Scalars['Int']['output'];
  readonly bus?: Maybe<Bus>;
  readonly medium?: Maybe<Medium>;
  readonly boards?: Maybe<StructureLinkBoards>;
};

export type StructureLinkBoards =
  | 'ONE'
  | 'TWO'
  | 'UNKNOWN';

export type StructureChance = {
  readonly expected: Scalars['Float']['output'];
  readonly meeting: Scalars['Float']['output'];
  readonly meetingError: Scalars['Float']['output'];
  readonly lift?: Maybe<Scalars['Float']['output']>;
  readonly liftInterval?: Maybe<StructureInterval>;
};

export type StructureTrend = {
  readonly n: Scalars['Int']['output'];
  readonly years: Scalars['Int']['output'];
  readonly p: Scalars['Float']['output'];
  readonly q: Scalars['Float']['output'];
  readonly slope: Scalars['Float']['output'];
};

export type KnownStructure = {
  readonly pattern: Pattern;
  readonly share: Scalars['Float']['output'];
};

export type Structure = {
  readonly words: Scalars['String']['output'];
  readonly text: Scalars['String']['output'];
  readonly kinds: ReadonlyArray<Scalars['String']['output']>;
  readonly links: ReadonlyArray<StructureLink>;
  readonly support: Scalars['Int']['output'];
  readonly share: Scalars['Float']['output'];
  readonly shareInterval: StructureInterval;
  readonly possible: Scalars['Int']['output'];
  readonly expected: Scalars['Float']['output'];
  readonly chance: StructureChance;
  readonly year?: Maybe<StructureTrend>;
  readonly knownAs: ReadonlyArray<KnownStructure>;
  readonly variants: Scalars['Int']['output'];
  readonly isExtendable: Scalars['Boolean']['output'];
  readonly devices?: Maybe<DeviceConnection>;
};


export type StructureDevicesArgs = {
  first?: InputMaybe<Scalars['Int']['input']>;
  after?: InputMaybe<Scalars['String']['input']>;
  last?: InputMaybe<Scalars['Int']['input']>;
  before?: InputMaybe<Scalars['String']['input']>;
};

export type Structures = {
  readonly structures: ReadonlyArray<Structure>;
  readonly found: Scalars['Int']['output'];
  readonly devices: Scalars['Int']['output'];
  readonly minSupport: Scalars['Int']['output'];
  readonly relations: ReadonlyArray<StructureRelation>;
  readonly isComplete: Scalars['Boolean']['output'];
  readonly cautions: ReadonlyArray<Scalars['String']['output']>;
};

export type SavePatternInput = {
  readonly id: Scalars['ID']['input'];
  readonly name: Scalars['String']['input'];
  readonly idea: Scalars['String']['input'];
  readonly text: Scalars['String']['input'];
  readonly reasons: ReadonlyArray<Scalars['String']['input']>;
  readonly against: ReadonlyArray<Scalars['String']['input']>;
  readonly strength: Scalars['Float']['input'];
  readonly note?: InputMaybe<Scalars['String']['input']>;
  readonly visibility?: InputMaybe<Visibility>;
  readonly embargoUntil?: InputMaybe<Scalars['DateTime']['input']>;
  readonly actor?: InputMaybe<Scalars['String']['input']>;
  readonly reason: Scalars['String']['input'];
};

export type SavePatternPayload = {
  readonly pattern: Pattern;
  readonly entry: JournalEntry;
};

export type TradeFileFormat =
  | 'BILL_OF_MATERIALS'
  | 'PLACEMENT'
  | 'IPC_D_356'
  | 'IPC_2581'
  | 'KICAD'
  | 'KICAD_NETLIST';

export type TradeLengthUnit =
  | 'MM'
  | 'MIL'
  | 'INCH'
  | 'UM'
  | 'CM';

export type TradeProposalKind =
  | 'NET'
  | 'CLASS'
  | 'PART'
  | 'NOT_FITTED'
  | 'APPEARANCE'
  | 'BOARD';

export type TradeDifferenceKind =
  | 'AGREE'
  | 'ONLY_ARCHIVE'
  | 'ONLY_FILE'
  | 'CONTRADICTION'
  | 'CANNOT_BE_TOLD';

export type TradeDecimalSign =
  | 'POINT'
  | 'COMMA';

export type TradeSeparator =
  | 'COMMA'
  | 'SEMICOLON'
  | 'TAB'
  | 'BAR'
  | 'BLANKS';

export type TradeFileInput = {
  readonly name: Scalars['String']['input'];
  readonly text?: InputMaybe<Scalars['String']['input']>;
  readonly content?: InputMaybe<Scalars['String']['input']>;
  readonly sheet?: InputMaybe<Scalars['String']['input']>;
  readonly headingRow?: InputMaybe<Scalars['Int']['input']>;
  readonly board?: InputMaybe<Scalars['String']['input']>;
};

export type TradeColumnInput = {
  readonly heading: Scalars['String']['input'];
  readonly field: Scalars['String']['input'];
};

export type ImportTradeFilesInput = {
  readonly files: ReadonlyArray<TradeFileInput>;
  readonly device: Scalars['ID']['input'];
  readonly specimen: Scalars['String']['input'];
  readonly opened?: InputMaybe<Scalars['PartialDate']['input']>;
  readonly boardKind: BoardKind;
  readonly unit?: InputMaybe<TradeLengthUnit>;
  readonly mapping?: InputMaybe<Scalars['ID']['input']>;
  readonly decimal?: InputMaybe<TradeDecimalSign>;
  readonly columns: ReadonlyArray<TradeColumnInput>;
  readonly isComplete: Scalars['Boolean']['input'];
  readonly despiteContradictions: Scalars['Boolean']['input'];
  readonly dryRun: Scalars['Boolean']['input'];
  readonly actor?: InputMaybe<Scalars['String']['input']>;
  readonly reason: Scalars['String']['input'];
};

export type TradeColumn = {
  readonly heading: Scalars['String']['output'];
  readonly field?: Maybe<Scalars['String']['output']>;
  readonly unit?: Maybe<Scalars['String']['output']>;
  readonly isCertain?: Maybe<Scalars['Boolean']['output']>;
  readonly suggestion?: Maybe<Scalars['String']['output']>;
  readonly why?: Maybe<Scalars['String']['output']>;
};

export type TradeRow = {
  readonly line: Scalars['Int']['output'];
  readonly cells: ReadonlyArray<Scalars['String']['output']>;
};

export type TradeSkippedRow = {
  readonly line: Scalars['Int']['output'];
  readonly why: Scalars['String']['output'];
};

export type TradeTable = {
  readonly sheet?: Maybe<Scalars['String']['output']>;
  readonly headingRow: Scalars['Int']['output'];
  readonly separator?: Maybe<TradeSeparator>;
  readonly encoding?: Maybe<Scalars['String']['output']>;
  readonly decimal?: Maybe<TradeDecimalSign>;
  readonly rowCount: Scalars['Int']['output'];
  readonly firstRows: ReadonlyArray<TradeRow>;
  readonly skippedCount: Scalars['Int']['output'];
  readonly skipped: ReadonlyArray<TradeSkippedRow>;
};

export type TradeFileReading = {
  readonly name: Scalars['String']['output'];
  readonly format: TradeFileFormat;
  readonly boards: ReadonlyArray<Scalars['String']['output']>;
  readonly components: Scalars['Int']['output'];
  readonly nets: Scalars['Int']['output'];
  readonly understood: ReadonlyArray<Scalars['String']['output']>;
  readonly columns: ReadonlyArray<TradeColumn>;
  readonly table?: Maybe<TradeTable>;
};

export type TradeBoardReport = {
  readonly board: Scalars['String']['output'];
  readonly isNew: Scalars['Boolean']['output'];
  readonly componentsInFiles: Scalars['Int']['output'];
  readonly componentsAdded: Scalars['Int']['output'];
  readonly componentsCompleted: Scalars['Int']['output'];
  readonly netsInFiles: Scalars['Int']['output'];
  readonly netsAdded: Scalars['Int']['output'];
  readonly netsCompleted: Scalars['Int']['output'];
};

export type TradeProposal = {
  readonly kind: TradeProposalKind;
  readonly of: Scalars['String']['output'];
  readonly proposed: Scalars['String']['output'];
  readonly because: Scalars['String']['output'];
};

export type TradeMissing = {
  readonly board: Scalars['String']['output'];
  readonly what: Scalars['String']['output'];
  readonly count: Scalars['Int']['output'];
  readonly of: ReadonlyArray<Scalars['String']['output']>;
};

export type TradeDifference = {
  readonly kind: TradeDifferenceKind;
  readonly what: Scalars['String']['output'];
};

export type TradeConflict = {
  readonly of: Scalars['String']['output'];
  readonly field: Scalars['String']['output'];
  readonly archive: Scalars['String']['output'];
  readonly files: Scalars['String']['output'];
};

export type TradeCaution = {
  readonly file?: Maybe<Scalars['String']['output']>;
  readonly line?: Maybe<Scalars['Int']['output']>;
  readonly path?: Maybe<Scalars['String']['output']>;
  readonly what: Scalars['String']['output'];
  readonly fix?: Maybe<Scalars['String']['output']>;
};

export type TradeReport = {
  readonly isNew: Scalars['Boolean']['output'];
  readonly hasChanges: Scalars['Boolean']['output'];
  readonly files: ReadonlyArray<TradeFileReading>;
  readonly boards: ReadonlyArray<TradeBoardReport>;
  readonly proposalCount: Scalars['Int']['output'];
  readonly proposals: ReadonlyArray<TradeProposal>;
  readonly missing: ReadonlyArray<TradeMissing>;
  readonly differenceCount: Scalars['Int']['output'];
  readonly differences: ReadonlyArray<TradeDifference>;
  readonly conflictCount: Scalars['Int']['output'];
  readonly conflicts: ReadonlyArray<TradeConflict>;
  readonly cautions: ReadonlyArray<TradeCaution>;
};

export type ImportTradeFilesPayload = {
  readonly report: TradeReport;
  readonly entries: Scalars['Int']['output'];
  readonly specimen?: Maybe<Specimen>;
  readonly entry?: Maybe<JournalEntry>;
};

export type TrendPeriodLength =
  | 'YEAR'
  | 'HALF_YEAR'
  | 'QUARTER';

export type TrendFacet =
  | 'BODY_SITE'
  | 'MAKER'
  | 'PRICE_BAND';

export type TrendDirection =
  | 'RISING'
  | 'FALLING'
  | 'NO_CLEAR_DIRECTION';

export type TrendDeviceQuantity =
  | 'MASS'
  | 'PRICE'
  | 'LENGTH'
  | 'WIDTH'
  | 'HEIGHT';

export type TrendSubject = {
  readonly pattern?: InputMaybe<Scalars['ID']['input']>;
  readonly text?: InputMaybe<Scalars['String']['input']>;
  readonly category?: InputMaybe<Scalars['String']['input']>;
  readonly maker?: InputMaybe<Scalars['ID']['input']>;
  readonly part?: InputMaybe<Scalars['ID']['input']>;
  readonly decision?: InputMaybe<Scalars['ID']['input']>;
};

export type TrendQuantity = {
  readonly device?: InputMaybe<TrendDeviceQuantity>;
  readonly parameter?: InputMaybe<Scalars['String']['input']>;
  readonly of?: InputMaybe<Scalars['String']['input']>;
};

export type TrendMeasure = {
  readonly share?: InputMaybe<TrendSubject>;
  readonly count?: InputMaybe<Scalars['String']['input']>;
  readonly quantity?: InputMaybe<TrendQuantity>;
};

export type TrendQuestion = {
  readonly of: TrendMeasure;
  readonly per: TrendPeriodLength;
  readonly by?: InputMaybe<TrendFacet>;
  readonly edges?: InputMaybe<ReadonlyArray<Scalars['Float']['input']>>;
  readonly currency?: InputMaybe<Scalars['String']['input']>;
  readonly filter?: InputMaybe<DeviceFilter>;
};

export type TrendInterval = {
  readonly low: Scalars['Float']['output'];
  readonly high: Scalars['Float']['output'];
};

export type TrendMedian = {
  readonly value: Scalars['Float']['output'];
  readonly interval?: Maybe<TrendInterval>;
};

export type TrendDistribution = {
  readonly minimum: Scalars['Float']['output'];
  readonly lowerQuartile: Scalars['Float']['output'];
  readonly median: Scalars['Float']['output'];
  readonly upperQuartile: Scalars['Float']['output'];
  readonly maximum: Scalars['Float']['output'];
};

export type TrendCell = {
  readonly devices: Scalars['Int']['output'];
  readonly n: Scalars['Int']['output'];
  readonly notObserved: Scalars['Int']['output'];
  readonly absent: Scalars['Int']['output'];
  readonly value?: Maybe<Scalars['Float']['output']>;
  readonly interval?: Maybe<TrendInterval>;
  readonly productLines: Scalars['Int']['output'];
  readonly productLineInterval?: Maybe<TrendInterval>;
  readonly band?: Maybe<TrendInterval>;
  readonly outer?: Maybe<TrendInterval>;
  readonly certain: Scalars['Int']['output'];
  readonly likely?: Maybe<Scalars['Int']['output']>;
  readonly expected?: Maybe<Scalars['Float']['output']>;
  readonly possible?: Maybe<Scalars['Int']['output']>;
  readonly distribution?: Maybe<TrendDistribution>;
  readonly median?: Maybe<TrendMedian>;
  readonly certainMedian?: Maybe<Scalars['Float']['output']>;
};

export type TrendPeriod = {
  readonly period: Scalars['String']['output'];
  readonly start: Scalars['Float']['output'];
  readonly devices: Scalars['Int']['output'];
  readonly n: Scalars['Int']['output'];
  readonly notObserved: Scalars['Int']['output'];
  readonly absent: Scalars['Int']['output'];
  readonly value?: Maybe<Scalars['Float']['output']>;
  readonly interval?: Maybe<TrendInterval>;
  readonly productLines: Scalars['Int']['output'];
  readonly productLineInterval?: Maybe<TrendInterval>;
  readonly band?: Maybe<TrendInterval>;
  readonly outer?: Maybe<TrendInterval>;
  readonly certain: Scalars['Int']['output'];
  readonly likely?: Maybe<Scalars['Int']['output']>;
  readonly expected?: Maybe<Scalars['Float']['output']>;
  readonly possible?: Maybe<Scalars['Int']['output']>;
  readonly distribution?: Maybe<TrendDistribution>;
  readonly median?: Maybe<TrendMedian>;
  readonly certainMedian?: Maybe<Scalars['Float']['output']>;
};

export type TrendTest = {
  readonly name: TrendTestName;
  readonly n: Scalars['Int']['output'];
  readonly periods: Scalars['Int']['output'];
  readonly z: Scalars['Float']['output'];
  readonly p: Scalars['Float']['output'];
  readonly byProductLine?: Maybe<TrendLineTest>;
  readonly basis: TrendIndependence;
  readonly q: Scalars['Float']['output'];
  readonly qAtMost: Scalars['Float']['output'];
  readonly slope?: Maybe<Scalars['Float']['output']>;
  readonly slopeInterval?: Maybe<TrendInterval>;
  readonly isRobust: Scalars['Boolean']['output'];
};

export type TrendLineTest = {
  readonly productLines: Scalars['Int']['output'];
  readonly t: Scalars['Float']['output'];
  readonly degreesOfFreedom: Scalars['Float']['output'];
  readonly p: Scalars['Float']['output'];
  readonly designEffect: Scalars['Float']['output'];
  readonly slopeInterval?: Maybe<TrendInterval>;
};

export type TrendIndependence =
  | 'DEVICES'
  | 'PRODUCT_LINES';

export type TrendTestName =
  | 'COCHRAN_ARMITAGE'
  | 'MANN_KENDALL';

export type TrendVerdict = {
  readonly isSufficient: Scalars['Boolean']['output'];
  readonly direction?: Maybe<TrendDirection>;
  readonly sentence: Scalars['String']['output'];
};

export type TrendSeries = {
  readonly group?: Maybe<Scalars['String']['output']>;
  readonly label: Scalars['String']['output'];
  readonly total: TrendCell;
  readonly undated: Scalars['Int']['output'];
  readonly periods: ReadonlyArray<TrendPeriod>;
  readonly test?: Maybe<TrendTest>;
  readonly verdict: TrendVerdict;
};

export type TrendAdopter = {
  readonly device: Device;
  readonly probability: Scalars['Float']['output'];
  readonly isCertain: Scalars['Boolean']['output'];
  readonly probabilityFirst: Scalars['Float']['output'];
};

export type Trend = {
  readonly of: Scalars['String']['output'];
  readonly unit: Scalars['String']['output'];
  readonly per: TrendPeriodLength;
  readonly by?: Maybe<TrendFacet>;
  readonly total: TrendSeries;
  readonly groups: ReadonlyArray<TrendSeries>;
  readonly firstAdopters: ReadonlyArray<TrendAdopter>;
  readonly cautions: ReadonlyArray<Scalars['String']['output']>;
  readonly chart?: Maybe<Chart>;
  readonly totalsChart?: Maybe<Chart>;
  readonly adoptersChart?: Maybe<Chart>;
};


export type TrendChartArgs = {
  size: ChartSize;
};


export type TrendTotalsChartArgs = {
  size: ChartSize;
};


export type TrendAdoptersChartArgs = {
  size: ChartSize;
};

export type Audience =
  | 'READER'
  | 'DESK';

export type WebhookEvent =
  | 'FEED_CHANGED'
  | 'FEED_REMOVED';

export type WebhookState =
  | 'ON'
  | 'OFF';

export type WebhookMessageState =
  | 'WAITING'
  | 'DELIVERED'
  | 'GIVEN_UP';

export type Webhook = {
  readonly id: Scalars['ID']['output'];
  readonly feed: Scalars['ID']['output'];
  readonly address: Scalars['String']['output'];
  readonly events: ReadonlyArray<WebhookEvent>;
  readonly audience: Audience;
  readonly owner: Scalars['String']['output'];
  readonly created: Scalars['DateTime']['output'];
  readonly state: WebhookState;
  readonly note?: Maybe<Scalars['String']['output']>;
  readonly previousSecretUntil?: Maybe<Scalars['DateTime']['output']>;
  readonly messages: ReadonlyArray<WebhookMessage>;
};

export type WebhookMessage = {
  readonly id: Scalars['ID']['output'];
  readonly type: Scalars['String']['output'];
  readonly created: Scalars['DateTime']['output'];
  readonly state: WebhookMessageState;
  readonly tries: Scalars['Int']['output'];
  readonly nextTry?: Maybe<Scalars['DateTime']['output']>;
  readonly lastTry?: Maybe<Scalars['DateTime']['output']>;
  readonly outcome?: Maybe<Scalars['String']['output']>;
};

export type WebhookConnection = {
  readonly edges: ReadonlyArray<WebhookEdge>;
  readonly nodes: ReadonlyArray<Webhook>;
  readonly pageInfo: PageInfo;
  readonly totalCount: Scalars['Int']['output'];
};

export type WebhookEdge = {
  readonly cursor: Scalars['String']['output'];
  readonly node: Webhook;
};

export type RegisterWebhookInput = {
  readonly feed: Scalars['ID']['input'];
  readonly address: Scalars['String']['input'];
  readonly events: ReadonlyArray<WebhookEvent>;
  readonly audience: Audience;
};

export type RegisterWebhookPayload = {
  readonly webhook: Webhook;
  readonly secret: Scalars['String']['output'];
};

export type RotateWebhookSecretInput = {
  readonly id: Scalars['ID']['input'];
  readonly hours: Scalars['Int']['input'];
};

export type RotateWebhookSecretPayload = {
  readonly webhook: Webhook;
  readonly secret: Scalars['String']['output'];
};

export type ResumeWebhookInput = {
  readonly id: Scalars['ID']['input'];
};

export type ResumeWebhookPayload = {
  readonly webhook: Webhook;
};

export type TestWebhookInput = {
  readonly id: Scalars['ID']['input'];
};

export type TestWebhookPayload = {
  readonly message: WebhookMessage;
};

export type RemoveWebhookInput = {
  readonly id: Scalars['ID']['input'];
};

export type RemoveWebhookPayload = {
  readonly id: Scalars['ID']['output'];
};

export type PowerFeed = {
  readonly source: Component;
  readonly load: Component;
  readonly voltage?: Maybe<Quantity>;
  readonly output?: Maybe<Scalars['String']['output']>;
  readonly supply?: Maybe<SupplyKind>;
  readonly isSwitched?: Maybe<Scalars['Boolean']['output']>;
  readonly through: ReadonlyArray<Component>;
};

export type SupplyKind =
  | 'BUCK'
  | 'BOOST'
  | 'BUCK_BOOST'
  | 'CHARGE_PUMP'
  | 'LINEAR'
  | 'REFERENCE'
  | 'REGULATOR'
  | 'SWITCH'
  | 'TRANSISTOR'
  | 'MULTIPLEXER'
  | 'RECEIVER'
  | 'CHARGER'
  | 'CELL'
  | 'CONNECTOR';

export type SignalPath = {
  readonly ends: ReadonlyArray<Component>;
  readonly bus?: Maybe<Bus>;
  readonly lines: Scalars['Int']['output'];
  readonly through: ReadonlyArray<Component>;
  readonly isBoardToBoard: Scalars['Boolean']['output'];
};

export type SharedBus = {
  readonly ends: ReadonlyArray<Component>;
  readonly bus: Bus;
  readonly lines: Scalars['Int']['output'];
};

export type PowerFeedConnection = {
  readonly edges: ReadonlyArray<PowerFeedEdge>;
  readonly nodes: ReadonlyArray<PowerFeed>;
  readonly pageInfo: PageInfo;
  readonly totalCount: Scalars['Int']['output'];
};

export type PowerFeedEdge = {
  readonly cursor: Scalars['String']['output'];
  readonly node: PowerFeed;
};

export type SignalPathConnection = {
  readonly edges: ReadonlyArray<SignalPathEdge>;
  readonly nodes: ReadonlyArray<SignalPath>;
  readonly pageInfo: PageInfo;
  readonly totalCount: Scalars['Int']['output'];
};

export type SignalPathEdge = {
  readonly cursor: Scalars['String']['output'];
  readonly node: SignalPath;
};

export type SharedBusConnection = {
  readonly edges: ReadonlyArray<SharedBusEdge>;
  readonly nodes: ReadonlyArray<SharedBus>;
  readonly pageInfo: PageInfo;
  readonly totalCount: Scalars['Int']['output'];
};

export type SharedBusEdge = {
  readonly cursor: Scalars['String']['output'];
  readonly node: SharedBus;
};



export type ResolverTypeWrapper<T> = Promise<T> | T;

export type Resolver<TResult, TParent = Record<PropertyKey, never>, TContext = Record<PropertyKey, never>, TArgs = Record<PropertyKey, never>> = ResolverFn<TResult, TParent, TContext, TArgs>;

export type ResolverFn<TResult, TParent, TContext, TArgs> = (
  parent: TParent,
  args: TArgs,
  context: TContext,
  info: GraphQLResolveInfo
) => Promise<TResult> | TResult;

export type SubscriptionSubscribeFn<TResult, TParent, TContext, TArgs> = (
  parent: TParent,
  args: TArgs,
  context: TContext,
  info: GraphQLResolveInfo
) => AsyncIterable<TResult> | Promise<AsyncIterable<TResult>>;

export type SubscriptionResolveFn<TResult, TParent, TContext, TArgs> = (
  parent: TParent,
  args: TArgs,
  context: TContext,
  info: GraphQLResolveInfo
) => TResult | Promise<TResult>;

export interface SubscriptionSubscriberObject<TResult, TKey extends string, TParent, TContext, TArgs> {
  subscribe: SubscriptionSubscribeFn<{ [key in TKey]: TResult }, TParent, TContext, TArgs>;
  resolve?: SubscriptionResolveFn<TResult, { [key in TKey]: TResult }, TContext, TArgs>;
}

export interface SubscriptionResolverObject<TResult, TParent, TContext, TArgs> {
  subscribe: SubscriptionSubscribeFn<any, TParent, TContext, TArgs>;
  resolve: SubscriptionResolveFn<TResult, any, TContext, TArgs>;
}

export type SubscriptionObject<TResult, TKey extends string, TParent, TContext, TArgs> =
  | SubscriptionSubscriberObject<TResult, TKey, TParent, TContext, TArgs>
  | SubscriptionResolverObject<TResult, TParent, TContext, TArgs>;

export type SubscriptionResolver<TResult, TKey extends string, TParent = Record<PropertyKey, never>, TContext = Record<PropertyKey, never>, TArgs = Record<PropertyKey, never>> =
  | ((...args: any[]) => SubscriptionObject<TResult, TKey, TParent, TContext, TArgs>)
  | SubscriptionObject<TResult, TKey, TParent, TContext, TArgs>;

export type TypeResolveFn<TTypes, TParent = Record<PropertyKey, never>, TContext = Record<PropertyKey, never>> = (
  parent: TParent,
  context: TContext,
  info: GraphQLResolveInfo
) => Maybe<TTypes> | Promise<Maybe<TTypes>>;

export type IsTypeOfResolverFn<T = Record<PropertyKey, never>, TContext = Record<PropertyKey, never>> = (obj: T, context: TContext, info: GraphQLResolveInfo) => boolean | Promise<boolean>;

export type NextResolverFn<T> = () => Promise<T>;

export type DirectiveResolverFn<TResult = Record<PropertyKey, never>, TParent = Record<PropertyKey, never>, TContext = Record<PropertyKey, never>, TArgs = Record<PropertyKey, never>> = (
  next: NextResolverFn<TResult>,
  parent: TParent,
  args: TArgs,
  context: TContext,
  info: GraphQLResolveInfo
) => TResult | Promise<TResult>;




/** Mapping of interface types */
export type ResolversInterfaceTypes<_RefType extends Record<string, unknown>> = {
  Node:
    | ( ComponentSource )
    | ( DecisionSource )
    | ( DeviceSource )
    | ( FeedSource )
    | ( ListMappingSource )
    | ( MakerSource )
    | ( ProductLineSource )
    | ( NetSource )
    | ( PartSource )
    | ( PatternSource )
    | ( PublicationSource )
    | ( ClaimSource )
    | ( SourceSource )
    | ( SpecimenSource )
    | ( TeardownSource )
    | ( BoardSource )
    | ( SubsystemSource )
    | ( ObservationSource )
    | ( PhotoSource )
  ;
};

/** Mapping between all available schema types and the resolvers types */
export type ResolversTypes = {
  Node: ResolverTypeWrapper<ResolversInterfaceTypes<ResolversTypes>['Node']>;
  ID: ResolverTypeWrapper<Scalars['ID']['output']>;
  Query: ResolverTypeWrapper<Root>;
  String: ResolverTypeWrapper<Scalars['String']['output']>;
  Float: ResolverTypeWrapper<Scalars['Float']['output']>;
  Boolean: ResolverTypeWrapper<Scalars['Boolean']['output']>;
  Archive: ResolverTypeWrapper<Archive>;
  SearchKind: SearchKind;
  SearchHit: ResolverTypeWrapper<Omit<SearchHit, 'node'> & { node?: Maybe<ResolversTypes['Node']> }>;
  Term: ResolverTypeWrapper<Term>;
  SearchHitConnection: ResolverTypeWrapper<Omit<SearchHitConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversTypes['SearchHitEdge']>, nodes: ReadonlyArray<ResolversTypes['SearchHit']> }>;
  SearchHitEdge: ResolverTypeWrapper<Omit<SearchHitEdge, 'node'> & { node: ResolversTypes['SearchHit'] }>;
  FileInput: FileInput;
  ObservationInput: ObservationInput;
  MarkingSuggestionInput: MarkingSuggestionInput;
  IdentificationInput: IdentificationInput;
  CandidateInput: CandidateInput;
  EntryKind: EntryKind;
  JournalEntry: ResolverTypeWrapper<JournalEntry>;
  ChangeCaution: ResolverTypeWrapper<ChangeCaution>;
  ImportDossierPayload: ResolverTypeWrapper<Omit<ImportDossierPayload, 'specimens'> & { specimens: ReadonlyArray<ResolversTypes['Specimen']> }>;
  ReadersDifference: ResolverTypeWrapper<ReadersDifference>;
  RecallPayload: ResolverTypeWrapper<RecallPayload>;
  RecordObservationPayload: ResolverTypeWrapper<Omit<RecordObservationPayload, 'observation'> & { observation?: Maybe<ResolversTypes['Observation']> }>;
  SetIdentificationPayload: ResolverTypeWrapper<Omit<SetIdentificationPayload, 'component'> & { component?: Maybe<ResolversTypes['Component']> }>;
  Mutation: ResolverTypeWrapper<Record<PropertyKey, never>>;
  ImportDossierInput: ImportDossierInput;
  RecallInput: RecallInput;
  RecordObservationInput: RecordObservationInput;
  SetIdentificationInput: SetIdentificationInput;
  ChartSize: ChartSize;
  Chart: ResolverTypeWrapper<ChartSource>;
  PartialDate: ResolverTypeWrapper<Scalars['PartialDate']['output']>;
  DateTime: ResolverTypeWrapper<Scalars['DateTime']['output']>;
  Quantity: ResolverTypeWrapper<QuantitySource>;
  Dimensions: ResolverTypeWrapper<Omit<Dimensions, 'length' | 'width' | 'height'> & { length: ResolversTypes['Quantity'], width: ResolversTypes['Quantity'], height?: Maybe<ResolversTypes['Quantity']> }>;
  BodySize: ResolverTypeWrapper<BodySize>;
  Point: ResolverTypeWrapper<Point>;
  Money: ResolverTypeWrapper<Money>;
  QuantityInput: QuantityInput;
  PageInfo: ResolverTypeWrapper<PageInfo>;
  Direction: Direction;
  Comparison: ResolverTypeWrapper<ComparisonSource>;
  ComparedDevice: ResolverTypeWrapper<Omit<ComparedDevice, 'device' | 'specimen'> & { device: ResolversTypes['Device'], specimen: ResolversTypes['Specimen'] }>;
  KindRow: ResolverTypeWrapper<KindRow>;
  SubsystemRow: ResolverTypeWrapper<SubsystemRow>;
  ComparisonSectionKey: ComparisonSectionKey;
  ComparisonSection: ResolverTypeWrapper<ComparisonSection>;
  ComparisonRow: ResolverTypeWrapper<ComparisonRow>;
  ComparisonCell: ResolverTypeWrapper<ComparisonCell>;
  MissingFigure: MissingFigure;
  Alignment: ResolverTypeWrapper<Omit<Alignment, 'rows'> & { rows: ReadonlyArray<ResolversTypes['AlignmentRow']> }>;
  AlignmentRow: ResolverTypeWrapper<Omit<AlignmentRow, 'cells'> & { cells: ReadonlyArray<Maybe<ResolversTypes['AlignedComponent']>> }>;
  AlignedComponent: ResolverTypeWrapper<Omit<AlignedComponent, 'component' | 'part'> & { component: ResolversTypes['Component'], part?: Maybe<ResolversTypes['Part']> }>;
  ComponentChange: ResolverTypeWrapper<ComponentChange>;
  ComponentChangeKind: ComponentChangeKind;
  AlignmentStep: ResolverTypeWrapper<AlignmentStep>;
  ChangeTally: ResolverTypeWrapper<ChangeTally>;
  AlignmentWeight: ResolverTypeWrapper<AlignmentWeight>;
  AlignmentWeightsInput: AlignmentWeightsInput;
  Component: ResolverTypeWrapper<ComponentSource>;
  Label: ResolverTypeWrapper<Label>;
  Identification: ResolverTypeWrapper<IdentificationSource>;
  Candidate: ResolverTypeWrapper<CandidateSource>;
  ComponentFilter: ComponentFilter;
  ComponentOrderField: ComponentOrderField;
  ComponentOrder: ComponentOrder;
  ComponentConnection: ResolverTypeWrapper<Omit<ComponentConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversTypes['ComponentEdge']>, nodes: ReadonlyArray<ResolversTypes['Component']> }>;
  ComponentEdge: ResolverTypeWrapper<Omit<ComponentEdge, 'node'> & { node: ResolversTypes['Component'] }>;
  IdentificationConnection: ResolverTypeWrapper<Omit<IdentificationConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversTypes['IdentificationEdge']>, nodes: ReadonlyArray<ResolversTypes['Identification']> }>;
  IdentificationEdge: ResolverTypeWrapper<Omit<IdentificationEdge, 'node'> & { node: ResolversTypes['Identification'] }>;
  DecisionStanding: DecisionStanding;
  DecisionVerdict: DecisionVerdict;
  Decision: ResolverTypeWrapper<DecisionSource>;
  DecisionJudgement: ResolverTypeWrapper<DecisionJudgement>;
  JudgeDecisionInput: JudgeDecisionInput;
  JudgeDecisionPayload: ResolverTypeWrapper<Omit<JudgeDecisionPayload, 'decision'> & { decision?: Maybe<ResolversTypes['Decision']> }>;
  DecisionConnection: ResolverTypeWrapper<Omit<DecisionConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversTypes['DecisionEdge']>, nodes: ReadonlyArray<ResolversTypes['Decision']> }>;
  DecisionEdge: ResolverTypeWrapper<Omit<DecisionEdge, 'node'> & { node: ResolversTypes['Decision'] }>;
  CheckVerdict: CheckVerdict;
  CheckInputOrigin: CheckInputOrigin;
  DesignCheck: ResolverTypeWrapper<DesignCheck>;
  DesignCheckInput: ResolverTypeWrapper<DesignCheckInput>;
  TypicalRange: ResolverTypeWrapper<TypicalRange>;
  DesignCheckOutput: ResolverTypeWrapper<DesignCheckOutput>;
  CheckInputValue: CheckInputValue;
  CheckResult: ResolverTypeWrapper<CheckResult>;
  CheckedValue: ResolverTypeWrapper<CheckedValue>;
  BoundCheck: ResolverTypeWrapper<Omit<BoundCheck, 'inputs'> & { inputs: ReadonlyArray<ResolversTypes['BoundInput']> }>;
  BoundInput: ResolverTypeWrapper<Omit<BoundInput, 'quantity'> & { quantity?: Maybe<ResolversTypes['Quantity']> }>;
  BodySite: BodySite;
  Device: ResolverTypeWrapper<DeviceSource>;
  RegulatoryId: ResolverTypeWrapper<RegulatoryId>;
  RegulatoryScheme: RegulatoryScheme;
  KindCount: ResolverTypeWrapper<KindCount>;
  SubsystemCount: ResolverTypeWrapper<SubsystemCount>;
  DeviceFilter: DeviceFilter;
  DeviceOrderField: DeviceOrderField;
  DeviceOrder: DeviceOrder;
  DeviceConnection: ResolverTypeWrapper<Omit<DeviceConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversTypes['DeviceEdge']>, nodes: ReadonlyArray<ResolversTypes['Device']> }>;
  DeviceEdge: ResolverTypeWrapper<Omit<DeviceEdge, 'node'> & { node: ResolversTypes['Device'] }>;
  PictureForm: PictureForm;
  Drawing: ResolverTypeWrapper<Drawing>;
  PlanView: ResolverTypeWrapper<PlanView>;
  PlanPhoto: ResolverTypeWrapper<PlanPhoto>;
  SheetSpot: ResolverTypeWrapper<SheetSpot>;
  PlanHatch: ResolverTypeWrapper<PlanHatch>;
  HatchMark: HatchMark;
  ClaimFindingKind: ClaimFindingKind;
  WordingRange: WordingRange;
  AuditedClaim: ResolverTypeWrapper<Omit<AuditedClaim, 'claim'> & { claim: ResolversTypes['Claim'] }>;
  Statement: ResolverTypeWrapper<Statement>;
  StatementKind: StatementKind;
  StatementResult: StatementResult;
  ClaimSupport: ResolverTypeWrapper<ClaimSupport>;
  SupportItem: ResolverTypeWrapper<SupportItem>;
  SupportKind: SupportKind;
  ClaimFinding: ResolverTypeWrapper<ClaimFinding>;
  ThingKind: ThingKind;
  NamedThing: ResolverTypeWrapper<NamedThing>;
  Impact: ResolverTypeWrapper<ImpactSource>;
  ImpactedThing: ResolverTypeWrapper<ImpactedThing>;
  AmendmentInput: AmendmentInput;
  ReidentificationInput: ReidentificationInput;
  FurtherObservationInput: FurtherObservationInput;
  CorrectedValueInput: CorrectedValueInput;
  Difference: ResolverTypeWrapper<DifferenceSource>;
  DecisionDifference: ResolverTypeWrapper<DecisionDifference>;
  CellDifference: ResolverTypeWrapper<CellDifference>;
  CellFigures: ResolverTypeWrapper<CellFigures>;
  TrendPointDifference: ResolverTypeWrapper<TrendPointDifference>;
  ClaimDifference: ResolverTypeWrapper<ClaimDifference>;
  Correction: ResolverTypeWrapper<CorrectionSource>;
  CorrectedPublication: ResolverTypeWrapper<Omit<CorrectedPublication, 'publication'> & { publication: ResolversTypes['Publication'] }>;
  CorrectedClaim: ResolverTypeWrapper<CorrectedClaim>;
  CorrectInput: CorrectInput;
  CorrectPayload: ResolverTypeWrapper<Omit<CorrectPayload, 'correction' | 'difference'> & { correction: ResolversTypes['Correction'], difference: ResolversTypes['Difference'] }>;
  ClaimPhoto: ResolverTypeWrapper<ClaimPhotoSource>;
  AuditedClaimConnection: ResolverTypeWrapper<Omit<AuditedClaimConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversTypes['AuditedClaimEdge']>, nodes: ReadonlyArray<ResolversTypes['AuditedClaim']> }>;
  AuditedClaimEdge: ResolverTypeWrapper<Omit<AuditedClaimEdge, 'node'> & { node: ResolversTypes['AuditedClaim'] }>;
  CorrectionConnection: ResolverTypeWrapper<Omit<CorrectionConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversTypes['CorrectionEdge']>, nodes: ReadonlyArray<ResolversTypes['Correction']> }>;
  CorrectionEdge: ResolverTypeWrapper<Omit<CorrectionEdge, 'node'> & { node: ResolversTypes['Correction'] }>;
  ImpactedThingConnection: ResolverTypeWrapper<ImpactedThingConnection>;
  ImpactedThingEdge: ResolverTypeWrapper<ImpactedThingEdge>;
  DecisionDifferenceConnection: ResolverTypeWrapper<DecisionDifferenceConnection>;
  DecisionDifferenceEdge: ResolverTypeWrapper<DecisionDifferenceEdge>;
  CellDifferenceConnection: ResolverTypeWrapper<CellDifferenceConnection>;
  CellDifferenceEdge: ResolverTypeWrapper<CellDifferenceEdge>;
  TrendPointDifferenceConnection: ResolverTypeWrapper<TrendPointDifferenceConnection>;
  TrendPointDifferenceEdge: ResolverTypeWrapper<TrendPointDifferenceEdge>;
  ClaimDifferenceConnection: ResolverTypeWrapper<ClaimDifferenceConnection>;
  ClaimDifferenceEdge: ResolverTypeWrapper<ClaimDifferenceEdge>;
  Export: ResolverTypeWrapper<Omit<Export, 'files'> & { files: ReadonlyArray<ResolversTypes['ExportFile']> }>;
  ExportFile: ResolverTypeWrapper<ExportFileSource>;
  ExportLoss: ResolverTypeWrapper<ExportLoss>;
  Json: ResolverTypeWrapper<Scalars['Json']['output']>;
  Feed: ResolverTypeWrapper<FeedSource>;
  FeedConnection: ResolverTypeWrapper<Omit<FeedConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversTypes['FeedEdge']>, nodes: ReadonlyArray<ResolversTypes['Feed']> }>;
  FeedEdge: ResolverTypeWrapper<Omit<FeedEdge, 'node'> & { node: ResolversTypes['Feed'] }>;
  Subscription: ResolverTypeWrapper<Record<PropertyKey, never>>;
  FeedChange: ResolverTypeWrapper<FeedChange>;
  SaveFeedInput: SaveFeedInput;
  SaveFeedPayload: ResolverTypeWrapper<Omit<SaveFeedPayload, 'feed'> & { feed?: Maybe<ResolversTypes['Feed']> }>;
  Generations: ResolverTypeWrapper<GenerationsSource>;
  GenerationsChart: GenerationsChart;
  Generation: ResolverTypeWrapper<GenerationSource>;
  GenerationStep: ResolverTypeWrapper<GenerationStepSource>;
  DecisionAdoption: ResolverTypeWrapper<Omit<DecisionAdoption, 'pattern'> & { pattern?: Maybe<ResolversTypes['Pattern']> }>;
  PartSighting: ResolverTypeWrapper<Omit<PartSighting, 'part' | 'first' | 'last' | 'maybeSince' | 'maybeUntil'> & { part?: Maybe<ResolversTypes['Part']>, first: ResolversTypes['Device'], last: ResolversTypes['Device'], maybeSince?: Maybe<ResolversTypes['Device']>, maybeUntil?: Maybe<ResolversTypes['Device']> }>;
  MakerSighting: ResolverTypeWrapper<Omit<MakerSighting, 'maker' | 'first' | 'last' | 'maybeSince' | 'maybeUntil'> & { maker?: Maybe<ResolversTypes['Maker']>, first: ResolversTypes['Device'], last: ResolversTypes['Device'], maybeSince?: Maybe<ResolversTypes['Device']>, maybeUntil?: Maybe<ResolversTypes['Device']> }>;
  KeptPart: ResolverTypeWrapper<Omit<KeptPart, 'part' | 'since'> & { part?: Maybe<ResolversTypes['Part']>, since: ResolversTypes['Device'] }>;
  Integration: ResolverTypeWrapper<Integration>;
  HardwareRevision: ResolverTypeWrapper<Omit<HardwareRevision, 'from' | 'to' | 'alignment'> & { from: ResolversTypes['Specimen'], to: ResolversTypes['Specimen'], alignment: ResolversTypes['Alignment'] }>;
  HistoryEntry: ResolverTypeWrapper<HistoryEntry>;
  ArchiveDifference: ResolverTypeWrapper<ArchiveDifferenceSource>;
  RecordDifferenceKind: RecordDifferenceKind;
  RecordDifference: ResolverTypeWrapper<RecordDifference>;
  FieldDifference: ResolverTypeWrapper<FieldDifference>;
  CorrectClockInput: CorrectClockInput;
  CorrectClockPayload: ResolverTypeWrapper<CorrectClockPayload>;
  HistoryEntryConnection: ResolverTypeWrapper<HistoryEntryConnection>;
  HistoryEntryEdge: ResolverTypeWrapper<HistoryEntryEdge>;
  RecordDifferenceConnection: ResolverTypeWrapper<RecordDifferenceConnection>;
  RecordDifferenceEdge: ResolverTypeWrapper<RecordDifferenceEdge>;
  EvidenceKind: EvidenceKind;
  CandidateState: CandidateState;
  Candidates: ResolverTypeWrapper<CandidatesSource>;
  Disagreement: ResolverTypeWrapper<DisagreementSource>;
  DisagreementConnection: ResolverTypeWrapper<Omit<DisagreementConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversTypes['DisagreementEdge']>, nodes: ReadonlyArray<ResolversTypes['Disagreement']> }>;
  DisagreementEdge: ResolverTypeWrapper<Omit<DisagreementEdge, 'node'> & { node: ResolversTypes['Disagreement'] }>;
  PossibleClass: ResolverTypeWrapper<PossibleClass>;
  PossibleRole: ResolverTypeWrapper<Omit<PossibleRole, 'component'> & { component?: Maybe<ResolversTypes['Component']> }>;
  ClassObservation: ResolverTypeWrapper<ClassObservation>;
  CandidateSet: ResolverTypeWrapper<CandidateSetSource>;
  CoverageAmong: CoverageAmong;
  PossibleKind: ResolverTypeWrapper<PossibleKind>;
  PossiblePart: ResolverTypeWrapper<PossiblePartSource>;
  Evidence: ResolverTypeWrapper<Evidence>;
  PossibleCategory: ResolverTypeWrapper<PossibleCategory>;
  PossibleMaker: ResolverTypeWrapper<Omit<PossibleMaker, 'maker'> & { maker: ResolversTypes['Maker'] }>;
  NextObservation: ResolverTypeWrapper<Omit<NextObservation, 'component'> & { component: ResolversTypes['Component'] }>;
  MarkingReading: ResolverTypeWrapper<MarkingReadingSource>;
  PhotoReading: ResolverTypeWrapper<PhotoReadingSource>;
  PhotoLine: ResolverTypeWrapper<PhotoLine>;
  PhotoCharacter: ResolverTypeWrapper<PhotoCharacter>;
  CharacterAlternative: ResolverTypeWrapper<CharacterAlternative>;
  OtherPhotoReading: ResolverTypeWrapper<OtherPhotoReadingSource>;
  CandidatesIfConfirmed: ResolverTypeWrapper<CandidatesIfConfirmedSource>;
  PartIfConfirmed: ResolverTypeWrapper<PartIfConfirmedSource>;
  MarkingLine: ResolverTypeWrapper<MarkingLine>;
  CodeReading: ResolverTypeWrapper<CodeReading>;
  MarkingMatch: ResolverTypeWrapper<Omit<MarkingMatch, 'part'> & { part: ResolversTypes['Part'] }>;
  Calibration: ResolverTypeWrapper<Calibration>;
  HeldOutCalibration: ResolverTypeWrapper<HeldOutCalibration>;
  ReliabilityBin: ResolverTypeWrapper<ReliabilityBin>;
  JudgeIdentificationPayload: ResolverTypeWrapper<Omit<JudgeIdentificationPayload, 'component'> & { component?: Maybe<ResolversTypes['Component']> }>;
  WithdrawObservationPayload: ResolverTypeWrapper<Omit<WithdrawObservationPayload, 'observation'> & { observation?: Maybe<ResolversTypes['Observation']> }>;
  Withdrawal: ResolverTypeWrapper<Withdrawal>;
  JudgeIdentificationInput: JudgeIdentificationInput;
  WithdrawObservationInput: WithdrawObservationInput;
  ListMappingColumn: ResolverTypeWrapper<ListMappingColumn>;
  ListMapping: ResolverTypeWrapper<ListMappingSource>;
  ListMappingConnection: ResolverTypeWrapper<Omit<ListMappingConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversTypes['ListMappingEdge']>, nodes: ReadonlyArray<ResolversTypes['ListMapping']> }>;
  ListMappingEdge: ResolverTypeWrapper<Omit<ListMappingEdge, 'node'> & { node: ResolversTypes['ListMapping'] }>;
  ListMappingColumnInput: ListMappingColumnInput;
  SaveListMappingInput: SaveListMappingInput;
  SaveListMappingPayload: ResolverTypeWrapper<Omit<SaveListMappingPayload, 'listMapping'> & { listMapping?: Maybe<ResolversTypes['ListMapping']> }>;
  Makes: Makes;
  Maker: ResolverTypeWrapper<MakerSource>;
  ProductLine: ResolverTypeWrapper<ProductLineSource>;
  MakerConnection: ResolverTypeWrapper<Omit<MakerConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversTypes['MakerEdge']>, nodes: ReadonlyArray<ResolversTypes['Maker']> }>;
  MakerEdge: ResolverTypeWrapper<Omit<MakerEdge, 'node'> & { node: ResolversTypes['Maker'] }>;
  ProductLineConnection: ResolverTypeWrapper<Omit<ProductLineConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversTypes['ProductLineEdge']>, nodes: ReadonlyArray<ResolversTypes['ProductLine']> }>;
  ProductLineEdge: ResolverTypeWrapper<Omit<ProductLineEdge, 'node'> & { node: ResolversTypes['ProductLine'] }>;
  PictureSizeInput: PictureSizeInput;
  PhotoSpotInput: PhotoSpotInput;
  PhotoPointInput: PhotoPointInput;
  PhotoLengthInput: PhotoLengthInput;
  PhotoBodyInput: PhotoBodyInput;
  PhotoBoxInput: PhotoBoxInput;
  PhotoPlane: PhotoPlane;
  LensBendingKind: LensBendingKind;
  AgreementVerdict: AgreementVerdict;
  MeasuredLength: ResolverTypeWrapper<MeasuredLength>;
  MeasuredAngle: ResolverTypeWrapper<MeasuredAngle>;
  MeasuredPercentage: ResolverTypeWrapper<MeasuredPercentage>;
  PhotoSpot: ResolverTypeWrapper<PhotoSpot>;
  PhotoPoint: ResolverTypeWrapper<PhotoPoint>;
  PhotoMeasurement: ResolverTypeWrapper<Omit<PhotoMeasurement, 'photo' | 'components'> & { photo?: Maybe<ResolversTypes['Photo']>, components: ReadonlyArray<ResolversTypes['PhotoComponent']> }>;
  FittedPoint: ResolverTypeWrapper<FittedPoint>;
  TiltEffect: ResolverTypeWrapper<TiltEffect>;
  LensBending: ResolverTypeWrapper<LensBending>;
  MeasuredPlace: ResolverTypeWrapper<MeasuredPlace>;
  PhotoLength: ResolverTypeWrapper<PhotoLength>;
  ScaleCheck: ResolverTypeWrapper<ScaleCheck>;
  PhotoBody: ResolverTypeWrapper<PhotoBody>;
  PhotoComponent: ResolverTypeWrapper<Omit<PhotoComponent, 'component' | 'part'> & { component: ResolversTypes['Component'], part?: Maybe<ResolversTypes['Part']> }>;
  MeasurementAgreement: ResolverTypeWrapper<MeasurementAgreement>;
  Net: ResolverTypeWrapper<NetSource>;
  NetKind: NetKind;
  NetPin: ResolverTypeWrapper<NetPinSource>;
  Pin: ResolverTypeWrapper<PinSource>;
  MatedPair: ResolverTypeWrapper<MatedPair>;
  PinDirection: PinDirection;
  PinFunction: PinFunction;
  NetConnection: ResolverTypeWrapper<Omit<NetConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversTypes['NetEdge']>, nodes: ReadonlyArray<ResolversTypes['Net']> }>;
  NetEdge: ResolverTypeWrapper<Omit<NetEdge, 'node'> & { node: ResolversTypes['Net'] }>;
  NetPinConnection: ResolverTypeWrapper<Omit<NetPinConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversTypes['NetPinEdge']>, nodes: ReadonlyArray<ResolversTypes['NetPin']> }>;
  NetPinEdge: ResolverTypeWrapper<Omit<NetPinEdge, 'node'> & { node: ResolversTypes['NetPin'] }>;
  Pack: ResolverTypeWrapper<PackSource>;
  PackFile: ResolverTypeWrapper<PackFile>;
  PackGap: ResolverTypeWrapper<PackGap>;
  PackDifference: ResolverTypeWrapper<PackDifference>;
  PackChange: ResolverTypeWrapper<PackChange>;
  Part: ResolverTypeWrapper<PartSource>;
  Parameter: ResolverTypeWrapper<Omit<Parameter, 'quantity'> & { quantity?: Maybe<ResolversTypes['Quantity']> }>;
  PartUse: ResolverTypeWrapper<Omit<PartUse, 'specimen' | 'part'> & { specimen: ResolversTypes['Specimen'], part: ResolversTypes['Part'] }>;
  PartFilter: PartFilter;
  PartOrderField: PartOrderField;
  PartOrder: PartOrder;
  PartConnection: ResolverTypeWrapper<Omit<PartConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversTypes['PartEdge']>, nodes: ReadonlyArray<ResolversTypes['Part']> }>;
  PartEdge: ResolverTypeWrapper<Omit<PartEdge, 'node'> & { node: ResolversTypes['Part'] }>;
  PartUseConnection: ResolverTypeWrapper<Omit<PartUseConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversTypes['PartUseEdge']>, nodes: ReadonlyArray<ResolversTypes['PartUse']> }>;
  PartUseEdge: ResolverTypeWrapper<Omit<PartUseEdge, 'node'> & { node: ResolversTypes['PartUse'] }>;
  Pattern: ResolverTypeWrapper<PatternSource>;
  PatternDevice: ResolverTypeWrapper<PatternDeviceSource>;
  ProbabilityMethod: ProbabilityMethod;
  PatternMatch: ResolverTypeWrapper<PatternMatchSource>;
  PatternBinding: ResolverTypeWrapper<PatternBindingSource>;
  PatternFacets: ResolverTypeWrapper<PatternFacets>;
  PatternFacet: ResolverTypeWrapper<PatternFacet>;
  PatternNearMatch: ResolverTypeWrapper<PatternNearMatchSource>;
  PatternSearched: ResolverTypeWrapper<PatternSearched>;
  PatternRows: ResolverTypeWrapper<PatternRows>;
  PatternConnection: ResolverTypeWrapper<Omit<PatternConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversTypes['PatternEdge']>, nodes: ReadonlyArray<ResolversTypes['Pattern']> }>;
  PatternEdge: ResolverTypeWrapper<Omit<PatternEdge, 'node'> & { node: ResolversTypes['Pattern'] }>;
  PatternDeviceConnection: ResolverTypeWrapper<PatternDeviceConnectionSource>;
  PatternDeviceEdge: ResolverTypeWrapper<Omit<PatternDeviceEdge, 'node'> & { node: ResolversTypes['PatternDevice'] }>;
  PatternMatchConnection: ResolverTypeWrapper<Omit<PatternMatchConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversTypes['PatternMatchEdge']>, nodes: ReadonlyArray<ResolversTypes['PatternMatch']> }>;
  PatternMatchEdge: ResolverTypeWrapper<Omit<PatternMatchEdge, 'node'> & { node: ResolversTypes['PatternMatch'] }>;
  PatternNearMatchConnection: ResolverTypeWrapper<Omit<PatternNearMatchConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversTypes['PatternNearMatchEdge']>, nodes: ReadonlyArray<ResolversTypes['PatternNearMatch']> }>;
  PatternNearMatchEdge: ResolverTypeWrapper<Omit<PatternNearMatchEdge, 'node'> & { node: ResolversTypes['PatternNearMatch'] }>;
  PatternValue: ResolverTypeWrapper<Scalars['PatternValue']['output']>;
  SqlDialect: SqlDialect;
  Role: Role;
  PersonState: PersonState;
  Asker: ResolverTypeWrapper<Asker>;
  Person: ResolverTypeWrapper<Person>;
  Token: ResolverTypeWrapper<Token>;
  DisablePersonInput: DisablePersonInput;
  DisablePersonPayload: ResolverTypeWrapper<DisablePersonPayload>;
  RevokeTokenInput: RevokeTokenInput;
  RevokeTokenPayload: ResolverTypeWrapper<RevokeTokenPayload>;
  PersonConnection: ResolverTypeWrapper<PersonConnection>;
  PersonEdge: ResolverTypeWrapper<PersonEdge>;
  Thumbnail: ResolverTypeWrapper<Thumbnail>;
  StepPicture: ResolverTypeWrapper<Omit<StepPicture, 'photo'> & { photo: ResolversTypes['Photo'] }>;
  AddPhotoInput: AddPhotoInput;
  PhotoRegionInput: PhotoRegionInput;
  ChangePhotoInput: ChangePhotoInput;
  PhotoMeasurementKind: PhotoMeasurementKind;
  RecordMeasurementInput: RecordMeasurementInput;
  AddPhotoPayload: ResolverTypeWrapper<Omit<AddPhotoPayload, 'photo'> & { photo?: Maybe<ResolversTypes['Photo']> }>;
  ChangePhotoPayload: ResolverTypeWrapper<Omit<ChangePhotoPayload, 'photo'> & { photo?: Maybe<ResolversTypes['Photo']> }>;
  RecordMeasurementPayload: ResolverTypeWrapper<Omit<RecordMeasurementPayload, 'observation'> & { observation?: Maybe<ResolversTypes['Observation']> }>;
  PhotoLikeness: PhotoLikeness;
  AlikePhoto: ResolverTypeWrapper<Omit<AlikePhoto, 'photo'> & { photo: ResolversTypes['Photo'] }>;
  PresenceVerdict: PresenceVerdict;
  PresenceSubjectInput: PresenceSubjectInput;
  DevicePresence: ResolverTypeWrapper<DevicePresence>;
  SpecimenPresence: ResolverTypeWrapper<SpecimenPresence>;
  PublicationKind: PublicationKind;
  Publication: ResolverTypeWrapper<PublicationSource>;
  Claim: ResolverTypeWrapper<ClaimSource>;
  SourceKind: SourceKind;
  Source: ResolverTypeWrapper<SourceSource>;
  PublicationConnection: ResolverTypeWrapper<Omit<PublicationConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversTypes['PublicationEdge']>, nodes: ReadonlyArray<ResolversTypes['Publication']> }>;
  PublicationEdge: ResolverTypeWrapper<Omit<PublicationEdge, 'node'> & { node: ResolversTypes['Publication'] }>;
  SimilarDevices: ResolverTypeWrapper<Omit<SimilarDevices, 'of' | 'devices'> & { of: ResolversTypes['ComparedDevice'], devices: ReadonlyArray<ResolversTypes['SimilarDevice']> }>;
  SimilarDevice: ResolverTypeWrapper<SimilarDeviceSource>;
  SharedNeighbourhood: ResolverTypeWrapper<SharedNeighbourhood>;
  DeviceClusters: ResolverTypeWrapper<Omit<DeviceClusters, 'clusters'> & { clusters: ReadonlyArray<ResolversTypes['DeviceCluster']> }>;
  DeviceCluster: ResolverTypeWrapper<DeviceClusterSource>;
  ClusterMember: ResolverTypeWrapper<Omit<ClusterMember, 'device'> & { device: ResolversTypes['Device'] }>;
  ClusterMark: ResolverTypeWrapper<ClusterMark>;
  CircuitDistance: ResolverTypeWrapper<CircuitDistanceSource>;
  CircuitDistanceMethod: CircuitDistanceMethod;
  CircuitNodeConnection: ResolverTypeWrapper<CircuitNodeConnection>;
  CircuitNodeEdge: ResolverTypeWrapper<CircuitNodeEdge>;
  CircuitNode: ResolverTypeWrapper<CircuitNode>;
  ClusterMemberConnection: ResolverTypeWrapper<Omit<ClusterMemberConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversTypes['ClusterMemberEdge']>, nodes: ReadonlyArray<ResolversTypes['ClusterMember']> }>;
  ClusterMemberEdge: ResolverTypeWrapper<Omit<ClusterMemberEdge, 'node'> & { node: ResolversTypes['ClusterMember'] }>;
  Condition: Condition;
  Recalled: ResolverTypeWrapper<Recalled>;
  Visibility: Visibility;
  BoardKind: BoardKind;
  Side: Side;
  SubsystemKind: SubsystemKind;
  Medium: Medium;
  Bus: Bus;
  ObservationKind: ObservationKind;
  IdentificationState: IdentificationState;
  Specimen: ResolverTypeWrapper<SpecimenSource>;
  Teardown: ResolverTypeWrapper<TeardownSource>;
  RecordSource: RecordSource;
  TeardownStep: ResolverTypeWrapper<TeardownStepSource>;
  Board: ResolverTypeWrapper<BoardSource>;
  Hole: ResolverTypeWrapper<Omit<Hole, 'outline'> & { outline: ReadonlyArray<ResolversTypes['Point']> }>;
  Subsystem: ResolverTypeWrapper<SubsystemSource>;
  PhysicalLink: ResolverTypeWrapper<PhysicalLinkSource>;
  Observation: ResolverTypeWrapper<ObservationSource>;
  MarkingSuggestion: ResolverTypeWrapper<MarkingSuggestion>;
  Photo: ResolverTypeWrapper<PhotoSource>;
  Picture: ResolverTypeWrapper<PictureSource>;
  PhotoRegion: ResolverTypeWrapper<PhotoRegionSource>;
  PhysicalLinkConnection: ResolverTypeWrapper<Omit<PhysicalLinkConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversTypes['PhysicalLinkEdge']>, nodes: ReadonlyArray<ResolversTypes['PhysicalLink']> }>;
  PhysicalLinkEdge: ResolverTypeWrapper<Omit<PhysicalLinkEdge, 'node'> & { node: ResolversTypes['PhysicalLink'] }>;
  ObservationConnection: ResolverTypeWrapper<Omit<ObservationConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversTypes['ObservationEdge']>, nodes: ReadonlyArray<ResolversTypes['Observation']> }>;
  ObservationEdge: ResolverTypeWrapper<Omit<ObservationEdge, 'node'> & { node: ResolversTypes['Observation'] }>;
  SpecimenConnection: ResolverTypeWrapper<Omit<SpecimenConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversTypes['SpecimenEdge']>, nodes: ReadonlyArray<ResolversTypes['Specimen']> }>;
  SpecimenEdge: ResolverTypeWrapper<Omit<SpecimenEdge, 'node'> & { node: ResolversTypes['Specimen'] }>;
  StructureRelation: StructureRelation;
  StructureLinkKind: StructureLinkKind;
  StructureOrder: StructureOrder;
  StructureInterval: ResolverTypeWrapper<StructureInterval>;
  StructureLink: ResolverTypeWrapper<StructureLink>;
  StructureLinkBoards: StructureLinkBoards;
  StructureChance: ResolverTypeWrapper<StructureChance>;
  StructureTrend: ResolverTypeWrapper<StructureTrend>;
  KnownStructure: ResolverTypeWrapper<Omit<KnownStructure, 'pattern'> & { pattern: ResolversTypes['Pattern'] }>;
  Structure: ResolverTypeWrapper<StructureSource>;
  Structures: ResolverTypeWrapper<Omit<Structures, 'structures'> & { structures: ReadonlyArray<ResolversTypes['Structure']> }>;
  SavePatternInput: SavePatternInput;
  SavePatternPayload: ResolverTypeWrapper<Omit<SavePatternPayload, 'pattern'> & { pattern: ResolversTypes['Pattern'] }>;
  TradeFileFormat: TradeFileFormat;
  TradeLengthUnit: TradeLengthUnit;
  TradeProposalKind: TradeProposalKind;
  TradeDifferenceKind: TradeDifferenceKind;
  TradeDecimalSign: TradeDecimalSign;
  TradeSeparator: TradeSeparator;
  TradeFileInput: TradeFileInput;
  TradeColumnInput: TradeColumnInput;
  ImportTradeFilesInput: ImportTradeFilesInput;
  TradeColumn: ResolverTypeWrapper<TradeColumn>;
  TradeRow: ResolverTypeWrapper<TradeRow>;
  TradeSkippedRow: ResolverTypeWrapper<TradeSkippedRow>;
  TradeTable: ResolverTypeWrapper<TradeTable>;
  TradeFileReading: ResolverTypeWrapper<TradeFileReading>;
  TradeBoardReport: ResolverTypeWrapper<TradeBoardReport>;
  TradeProposal: ResolverTypeWrapper<TradeProposal>;
  TradeMissing: ResolverTypeWrapper<TradeMissing>;
  TradeDifference: ResolverTypeWrapper<TradeDifference>;
  TradeConflict: ResolverTypeWrapper<TradeConflict>;
  TradeCaution: ResolverTypeWrapper<TradeCaution>;
  TradeReport: ResolverTypeWrapper<TradeReport>;
  ImportTradeFilesPayload: ResolverTypeWrapper<Omit<ImportTradeFilesPayload, 'specimen'> & { specimen?: Maybe<ResolversTypes['Specimen']> }>;
  TrendPeriodLength: TrendPeriodLength;
  TrendFacet: TrendFacet;
  TrendDirection: TrendDirection;
  TrendDeviceQuantity: TrendDeviceQuantity;
  TrendSubject: TrendSubject;
  TrendQuantity: TrendQuantity;
  TrendMeasure: TrendMeasure;
  TrendQuestion: TrendQuestion;
  TrendInterval: ResolverTypeWrapper<TrendInterval>;
  TrendMedian: ResolverTypeWrapper<TrendMedian>;
  TrendDistribution: ResolverTypeWrapper<TrendDistribution>;
  TrendCell: ResolverTypeWrapper<TrendCell>;
  TrendPeriod: ResolverTypeWrapper<TrendPeriod>;
  TrendTest: ResolverTypeWrapper<TrendTest>;
  TrendLineTest: ResolverTypeWrapper<TrendLineTest>;
  TrendIndependence: TrendIndependence;
  TrendTestName: TrendTestName;
  TrendVerdict: ResolverTypeWrapper<TrendVerdict>;
  TrendSeries: ResolverTypeWrapper<TrendSeries>;
  TrendAdopter: ResolverTypeWrapper<Omit<TrendAdopter, 'device'> & { device: ResolversTypes['Device'] }>;
  Trend: ResolverTypeWrapper<TrendSource>;
  Audience: Audience;
  WebhookEvent: WebhookEvent;
  WebhookState: WebhookState;
  WebhookMessageState: WebhookMessageState;
  Webhook: ResolverTypeWrapper<Webhook>;
  WebhookMessage: ResolverTypeWrapper<WebhookMessage>;
  WebhookConnection: ResolverTypeWrapper<WebhookConnection>;
  WebhookEdge: ResolverTypeWrapper<WebhookEdge>;
  RegisterWebhookInput: RegisterWebhookInput;
  RegisterWebhookPayload: ResolverTypeWrapper<RegisterWebhookPayload>;
  RotateWebhookSecretInput: RotateWebhookSecretInput;
  RotateWebhookSecretPayload: ResolverTypeWrapper<RotateWebhookSecretPayload>;
  ResumeWebhookInput: ResumeWebhookInput;
  ResumeWebhookPayload: ResolverTypeWrapper<ResumeWebhookPayload>;
  TestWebhookInput: TestWebhookInput;
  TestWebhookPayload: ResolverTypeWrapper<TestWebhookPayload>;
  RemoveWebhookInput: RemoveWebhookInput;
  RemoveWebhookPayload: ResolverTypeWrapper<RemoveWebhookPayload>;
  PowerFeed: ResolverTypeWrapper<PowerFeedSource>;
  SupplyKind: SupplyKind;
  SignalPath: ResolverTypeWrapper<SignalPathSource>;
  SharedBus: ResolverTypeWrapper<SharedBusSource>;
  PowerFeedConnection: ResolverTypeWrapper<Omit<PowerFeedConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversTypes['PowerFeedEdge']>, nodes: ReadonlyArray<ResolversTypes['PowerFeed']> }>;
  PowerFeedEdge: ResolverTypeWrapper<Omit<PowerFeedEdge, 'node'> & { node: ResolversTypes['PowerFeed'] }>;
  SignalPathConnection: ResolverTypeWrapper<Omit<SignalPathConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversTypes['SignalPathEdge']>, nodes: ReadonlyArray<ResolversTypes['SignalPath']> }>;
  SignalPathEdge: ResolverTypeWrapper<Omit<SignalPathEdge, 'node'> & { node: ResolversTypes['SignalPath'] }>;
  SharedBusConnection: ResolverTypeWrapper<Omit<SharedBusConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversTypes['SharedBusEdge']>, nodes: ReadonlyArray<ResolversTypes['SharedBus']> }>;
  SharedBusEdge: ResolverTypeWrapper<Omit<SharedBusEdge, 'node'> & { node: ResolversTypes['SharedBus'] }>;
  Int: ResolverTypeWrapper<Scalars['Int']['output']>;
};

/** Mapping between all available schema types and the resolvers parents */
export type ResolversParentTypes = {
  Node: ResolversInterfaceTypes<ResolversParentTypes>['Node'];
  ID: Scalars['ID']['output'];
  Query: Root;
  String: Scalars['String']['output'];
  Float: Scalars['Float']['output'];
  Boolean: Scalars['Boolean']['output'];
  Archive: Archive;
  SearchHit: Omit<SearchHit, 'node'> & { node?: Maybe<ResolversParentTypes['Node']> };
  Term: Term;
  SearchHitConnection: Omit<SearchHitConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversParentTypes['SearchHitEdge']>, nodes: ReadonlyArray<ResolversParentTypes['SearchHit']> };
  SearchHitEdge: Omit<SearchHitEdge, 'node'> & { node: ResolversParentTypes['SearchHit'] };
  FileInput: FileInput;
  ObservationInput: ObservationInput;
  MarkingSuggestionInput: MarkingSuggestionInput;
  IdentificationInput: IdentificationInput;
  CandidateInput: CandidateInput;
  JournalEntry: JournalEntry;
  ChangeCaution: ChangeCaution;
  ImportDossierPayload: Omit<ImportDossierPayload, 'specimens'> & { specimens: ReadonlyArray<ResolversParentTypes['Specimen']> };
  ReadersDifference: ReadersDifference;
  RecallPayload: RecallPayload;
  RecordObservationPayload: Omit<RecordObservationPayload, 'observation'> & { observation?: Maybe<ResolversParentTypes['Observation']> };
  SetIdentificationPayload: Omit<SetIdentificationPayload, 'component'> & { component?: Maybe<ResolversParentTypes['Component']> };
  Mutation: Record<PropertyKey, never>;
  ImportDossierInput: ImportDossierInput;
  RecallInput: RecallInput;
  RecordObservationInput: RecordObservationInput;
  SetIdentificationInput: SetIdentificationInput;
  Chart: ChartSource;
  PartialDate: Scalars['PartialDate']['output'];
  DateTime: Scalars['DateTime']['output'];
  Quantity: QuantitySource;
  Dimensions: Omit<Dimensions, 'length' | 'width' | 'height'> & { length: ResolversParentTypes['Quantity'], width: ResolversParentTypes['Quantity'], height?: Maybe<ResolversParentTypes['Quantity']> };
  BodySize: BodySize;
  Point: Point;
  Money: Money;
  QuantityInput: QuantityInput;
  PageInfo: PageInfo;
  Comparison: ComparisonSource;
  ComparedDevice: Omit<ComparedDevice, 'device' | 'specimen'> & { device: ResolversParentTypes['Device'], specimen: ResolversParentTypes['Specimen'] };
  KindRow: KindRow;
  SubsystemRow: SubsystemRow;
  ComparisonSection: ComparisonSection;
  ComparisonRow: ComparisonRow;
  ComparisonCell: ComparisonCell;
  Alignment: Omit<Alignment, 'rows'> & { rows: ReadonlyArray<ResolversParentTypes['AlignmentRow']> };
  AlignmentRow: Omit<AlignmentRow, 'cells'> & { cells: ReadonlyArray<Maybe<ResolversParentTypes['AlignedComponent']>> };
  AlignedComponent: Omit<AlignedComponent, 'component' | 'part'> & { component: ResolversParentTypes['Component'], part?: Maybe<ResolversParentTypes['Part']> };
  ComponentChange: ComponentChange;
  AlignmentStep: AlignmentStep;
  ChangeTally: ChangeTally;
  AlignmentWeight: AlignmentWeight;
  AlignmentWeightsInput: AlignmentWeightsInput;
  Component: ComponentSource;
  Label: Label;
  Identification: IdentificationSource;
  Candidate: CandidateSource;
  ComponentFilter: ComponentFilter;
  ComponentOrder: ComponentOrder;
  ComponentConnection: Omit<ComponentConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversParentTypes['ComponentEdge']>, nodes: ReadonlyArray<ResolversParentTypes['Component']> };
  ComponentEdge: Omit<ComponentEdge, 'node'> & { node: ResolversParentTypes['Component'] };
  IdentificationConnection: Omit<IdentificationConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversParentTypes['IdentificationEdge']>, nodes: ReadonlyArray<ResolversParentTypes['Identification']> };
  IdentificationEdge: Omit<IdentificationEdge, 'node'> & { node: ResolversParentTypes['Identification'] };
  Decision: DecisionSource;
  DecisionJudgement: DecisionJudgement;
  JudgeDecisionInput: JudgeDecisionInput;
  JudgeDecisionPayload: Omit<JudgeDecisionPayload, 'decision'> & { decision?: Maybe<ResolversParentTypes['Decision']> };
  DecisionConnection: Omit<DecisionConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversParentTypes['DecisionEdge']>, nodes: ReadonlyArray<ResolversParentTypes['Decision']> };
  DecisionEdge: Omit<DecisionEdge, 'node'> & { node: ResolversParentTypes['Decision'] };
  DesignCheck: DesignCheck;
  DesignCheckInput: DesignCheckInput;
  TypicalRange: TypicalRange;
  DesignCheckOutput: DesignCheckOutput;
  CheckInputValue: CheckInputValue;
  CheckResult: CheckResult;
  CheckedValue: CheckedValue;
  BoundCheck: Omit<BoundCheck, 'inputs'> & { inputs: ReadonlyArray<ResolversParentTypes['BoundInput']> };
  BoundInput: Omit<BoundInput, 'quantity'> & { quantity?: Maybe<ResolversParentTypes['Quantity']> };
  Device: DeviceSource;
  RegulatoryId: RegulatoryId;
  KindCount: KindCount;
  SubsystemCount: SubsystemCount;
  DeviceFilter: DeviceFilter;
  DeviceOrder: DeviceOrder;
  DeviceConnection: Omit<DeviceConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversParentTypes['DeviceEdge']>, nodes: ReadonlyArray<ResolversParentTypes['Device']> };
  DeviceEdge: Omit<DeviceEdge, 'node'> & { node: ResolversParentTypes['Device'] };
  Drawing: Drawing;
  PlanView: PlanView;
  PlanPhoto: PlanPhoto;
  SheetSpot: SheetSpot;
  PlanHatch: PlanHatch;
  AuditedClaim: Omit<AuditedClaim, 'claim'> & { claim: ResolversParentTypes['Claim'] };
  Statement: Statement;
  ClaimSupport: ClaimSupport;
  SupportItem: SupportItem;
  ClaimFinding: ClaimFinding;
  NamedThing: NamedThing;
  Impact: ImpactSource;
  ImpactedThing: ImpactedThing;
  AmendmentInput: AmendmentInput;
  ReidentificationInput: ReidentificationInput;
  FurtherObservationInput: FurtherObservationInput;
  CorrectedValueInput: CorrectedValueInput;
  Difference: DifferenceSource;
  DecisionDifference: DecisionDifference;
  CellDifference: CellDifference;
  CellFigures: CellFigures;
  TrendPointDifference: TrendPointDifference;
  ClaimDifference: ClaimDifference;
  Correction: CorrectionSource;
  CorrectedPublication: Omit<CorrectedPublication, 'publication'> & { publication: ResolversParentTypes['Publication'] };
  CorrectedClaim: CorrectedClaim;
  CorrectInput: CorrectInput;
  CorrectPayload: Omit<CorrectPayload, 'correction' | 'difference'> & { correction: ResolversParentTypes['Correction'], difference: ResolversParentTypes['Difference'] };
  ClaimPhoto: ClaimPhotoSource;
  AuditedClaimConnection: Omit<AuditedClaimConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversParentTypes['AuditedClaimEdge']>, nodes: ReadonlyArray<ResolversParentTypes['AuditedClaim']> };
  AuditedClaimEdge: Omit<AuditedClaimEdge, 'node'> & { node: ResolversParentTypes['AuditedClaim'] };
  CorrectionConnection: Omit<CorrectionConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversParentTypes['CorrectionEdge']>, nodes: ReadonlyArray<ResolversParentTypes['Correction']> };
  CorrectionEdge: Omit<CorrectionEdge, 'node'> & { node: ResolversParentTypes['Correction'] };
  ImpactedThingConnection: ImpactedThingConnection;
  ImpactedThingEdge: ImpactedThingEdge;
  DecisionDifferenceConnection: DecisionDifferenceConnection;
  DecisionDifferenceEdge: DecisionDifferenceEdge;
  CellDifferenceConnection: CellDifferenceConnection;
  CellDifferenceEdge: CellDifferenceEdge;
  TrendPointDifferenceConnection: TrendPointDifferenceConnection;
  TrendPointDifferenceEdge: TrendPointDifferenceEdge;
  ClaimDifferenceConnection: ClaimDifferenceConnection;
  ClaimDifferenceEdge: ClaimDifferenceEdge;
  Export: Omit<Export, 'files'> & { files: ReadonlyArray<ResolversParentTypes['ExportFile']> };
  ExportFile: ExportFileSource;
  ExportLoss: ExportLoss;
  Json: Scalars['Json']['output'];
  Feed: FeedSource;
  FeedConnection: Omit<FeedConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversParentTypes['FeedEdge']>, nodes: ReadonlyArray<ResolversParentTypes['Feed']> };
  FeedEdge: Omit<FeedEdge, 'node'> & { node: ResolversParentTypes['Feed'] };
  Subscription: Record<PropertyKey, never>;
  FeedChange: FeedChange;
  SaveFeedInput: SaveFeedInput;
  SaveFeedPayload: Omit<SaveFeedPayload, 'feed'> & { feed?: Maybe<ResolversParentTypes['Feed']> };
  Generations: GenerationsSource;
  Generation: GenerationSource;
  GenerationStep: GenerationStepSource;
  DecisionAdoption: Omit<DecisionAdoption, 'pattern'> & { pattern?: Maybe<ResolversParentTypes['Pattern']> };
  PartSighting: Omit<PartSighting, 'part' | 'first' | 'last' | 'maybeSince' | 'maybeUntil'> & { part?: Maybe<ResolversParentTypes['Part']>, first: ResolversParentTypes['Device'], last: ResolversParentTypes['Device'], maybeSince?: Maybe<ResolversParentTypes['Device']>, maybeUntil?: Maybe<ResolversParentTypes['Device']> };
  MakerSighting: Omit<MakerSighting, 'maker' | 'first' | 'last' | 'maybeSince' | 'maybeUntil'> & { maker?: Maybe<ResolversParentTypes['Maker']>, first: ResolversParentTypes['Device'], last: ResolversParentTypes['Device'], maybeSince?: Maybe<ResolversParentTypes['Device']>, maybeUntil?: Maybe<ResolversParentTypes['Device']> };
  KeptPart: Omit<KeptPart, 'part' | 'since'> & { part?: Maybe<ResolversParentTypes['Part']>, since: ResolversParentTypes['Device'] };
  Integration: Integration;
  HardwareRevision: Omit<HardwareRevision, 'from' | 'to' | 'alignment'> & { from: ResolversParentTypes['Specimen'], to: ResolversParentTypes['Specimen'], alignment: ResolversParentTypes['Alignment'] };
  HistoryEntry: HistoryEntry;
  ArchiveDifference: ArchiveDifferenceSource;
  RecordDifference: RecordDifference;
  FieldDifference: FieldDifference;
  CorrectClockInput: CorrectClockInput;
  CorrectClockPayload: CorrectClockPayload;
  HistoryEntryConnection: HistoryEntryConnection;
  HistoryEntryEdge: HistoryEntryEdge;
  RecordDifferenceConnection: RecordDifferenceConnection;
  RecordDifferenceEdge: RecordDifferenceEdge;
  Candidates: CandidatesSource;
  Disagreement: DisagreementSource;
  DisagreementConnection: Omit<DisagreementConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversParentTypes['DisagreementEdge']>, nodes: ReadonlyArray<ResolversParentTypes['Disagreement']> };
  DisagreementEdge: Omit<DisagreementEdge, 'node'> & { node: ResolversParentTypes['Disagreement'] };
  PossibleClass: PossibleClass;
  PossibleRole: Omit<PossibleRole, 'component'> & { component?: Maybe<ResolversParentTypes['Component']> };
  ClassObservation: ClassObservation;
  CandidateSet: CandidateSetSource;
  PossibleKind: PossibleKind;
  PossiblePart: PossiblePartSource;
  Evidence: Evidence;
  PossibleCategory: PossibleCategory;
  PossibleMaker: Omit<PossibleMaker, 'maker'> & { maker: ResolversParentTypes['Maker'] };
  NextObservation: Omit<NextObservation, 'component'> & { component: ResolversParentTypes['Component'] };
  MarkingReading: MarkingReadingSource;
  PhotoReading: PhotoReadingSource;
  PhotoLine: PhotoLine;
  PhotoCharacter: PhotoCharacter;
  CharacterAlternative: CharacterAlternative;
  OtherPhotoReading: OtherPhotoReadingSource;
  CandidatesIfConfirmed: CandidatesIfConfirmedSource;
  PartIfConfirmed: PartIfConfirmedSource;
  MarkingLine: MarkingLine;
  CodeReading: CodeReading;
  MarkingMatch: Omit<MarkingMatch, 'part'> & { part: ResolversParentTypes['Part'] };
  Calibration: Calibration;
  HeldOutCalibration: HeldOutCalibration;
  ReliabilityBin: ReliabilityBin;
  JudgeIdentificationPayload: Omit<JudgeIdentificationPayload, 'component'> & { component?: Maybe<ResolversParentTypes['Component']> };
  WithdrawObservationPayload: Omit<WithdrawObservationPayload, 'observation'> & { observation?: Maybe<ResolversParentTypes['Observation']> };
  Withdrawal: Withdrawal;
  JudgeIdentificationInput: JudgeIdentificationInput;
  WithdrawObservationInput: WithdrawObservationInput;
  ListMappingColumn: ListMappingColumn;
  ListMapping: ListMappingSource;
  ListMappingConnection: Omit<ListMappingConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversParentTypes['ListMappingEdge']>, nodes: ReadonlyArray<ResolversParentTypes['ListMapping']> };
  ListMappingEdge: Omit<ListMappingEdge, 'node'> & { node: ResolversParentTypes['ListMapping'] };
  ListMappingColumnInput: ListMappingColumnInput;
  SaveListMappingInput: SaveListMappingInput;
  SaveListMappingPayload: Omit<SaveListMappingPayload, 'listMapping'> & { listMapping?: Maybe<ResolversParentTypes['ListMapping']> };
  Maker: MakerSource;
  ProductLine: ProductLineSource;
  MakerConnection: Omit<MakerConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversParentTypes['MakerEdge']>, nodes: ReadonlyArray<ResolversParentTypes['Maker']> };
  MakerEdge: Omit<MakerEdge, 'node'> & { node: ResolversParentTypes['Maker'] };
  ProductLineConnection: Omit<ProductLineConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversParentTypes['ProductLineEdge']>, nodes: ReadonlyArray<ResolversParentTypes['ProductLine']> };
  ProductLineEdge: Omit<ProductLineEdge, 'node'> & { node: ResolversParentTypes['ProductLine'] };
  PictureSizeInput: PictureSizeInput;
  PhotoSpotInput: PhotoSpotInput;
  PhotoPointInput: PhotoPointInput;
  PhotoLengthInput: PhotoLengthInput;
  PhotoBodyInput: PhotoBodyInput;
  PhotoBoxInput: PhotoBoxInput;
  MeasuredLength: MeasuredLength;
  MeasuredAngle: MeasuredAngle;
  MeasuredPercentage: MeasuredPercentage;
  PhotoSpot: PhotoSpot;
  PhotoPoint: PhotoPoint;
  PhotoMeasurement: Omit<PhotoMeasurement, 'photo' | 'components'> & { photo?: Maybe<ResolversParentTypes['Photo']>, components: ReadonlyArray<ResolversParentTypes['PhotoComponent']> };
  FittedPoint: FittedPoint;
  TiltEffect: TiltEffect;
  LensBending: LensBending;
  MeasuredPlace: MeasuredPlace;
  PhotoLength: PhotoLength;
  ScaleCheck: ScaleCheck;
  PhotoBody: PhotoBody;
  PhotoComponent: Omit<PhotoComponent, 'component' | 'part'> & { component: ResolversParentTypes['Component'], part?: Maybe<ResolversParentTypes['Part']> };
  MeasurementAgreement: MeasurementAgreement;
  Net: NetSource;
  NetPin: NetPinSource;
  Pin: PinSource;
  MatedPair: MatedPair;
  NetConnection: Omit<NetConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversParentTypes['NetEdge']>, nodes: ReadonlyArray<ResolversParentTypes['Net']> };
  NetEdge: Omit<NetEdge, 'node'> & { node: ResolversParentTypes['Net'] };
  NetPinConnection: Omit<NetPinConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversParentTypes['NetPinEdge']>, nodes: ReadonlyArray<ResolversParentTypes['NetPin']> };
  NetPinEdge: Omit<NetPinEdge, 'node'> & { node: ResolversParentTypes['NetPin'] };
  Pack: PackSource;
  PackFile: PackFile;
  PackGap: PackGap;
  PackDifference: PackDifference;
  PackChange: PackChange;
  Part: PartSource;
  Parameter: Omit<Parameter, 'quantity'> & { quantity?: Maybe<ResolversParentTypes['Quantity']> };
  PartUse: Omit<PartUse, 'specimen' | 'part'> & { specimen: ResolversParentTypes['Specimen'], part: ResolversParentTypes['Part'] };
  PartFilter: PartFilter;
  PartOrder: PartOrder;
  PartConnection: Omit<PartConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversParentTypes['PartEdge']>, nodes: ReadonlyArray<ResolversParentTypes['Part']> };
  PartEdge: Omit<PartEdge, 'node'> & { node: ResolversParentTypes['Part'] };
  PartUseConnection: Omit<PartUseConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversParentTypes['PartUseEdge']>, nodes: ReadonlyArray<ResolversParentTypes['PartUse']> };
  PartUseEdge: Omit<PartUseEdge, 'node'> & { node: ResolversParentTypes['PartUse'] };
  Pattern: PatternSource;
  PatternDevice: PatternDeviceSource;
  PatternMatch: PatternMatchSource;
  PatternBinding: PatternBindingSource;
  PatternFacets: PatternFacets;
  PatternFacet: PatternFacet;
  PatternNearMatch: PatternNearMatchSource;
  PatternSearched: PatternSearched;
  PatternRows: PatternRows;
  PatternConnection: Omit<PatternConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversParentTypes['PatternEdge']>, nodes: ReadonlyArray<ResolversParentTypes['Pattern']> };
  PatternEdge: Omit<PatternEdge, 'node'> & { node: ResolversParentTypes['Pattern'] };
  PatternDeviceConnection: PatternDeviceConnectionSource;
  PatternDeviceEdge: Omit<PatternDeviceEdge, 'node'> & { node: ResolversParentTypes['PatternDevice'] };
  PatternMatchConnection: Omit<PatternMatchConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversParentTypes['PatternMatchEdge']>, nodes: ReadonlyArray<ResolversParentTypes['PatternMatch']> };
  PatternMatchEdge: Omit<PatternMatchEdge, 'node'> & { node: ResolversParentTypes['PatternMatch'] };
  PatternNearMatchConnection: Omit<PatternNearMatchConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversParentTypes['PatternNearMatchEdge']>, nodes: ReadonlyArray<ResolversParentTypes['PatternNearMatch']> };
  PatternNearMatchEdge: Omit<PatternNearMatchEdge, 'node'> & { node: ResolversParentTypes['PatternNearMatch'] };
  PatternValue: Scalars['PatternValue']['output'];
  Asker: Asker;
  Person: Person;
  Token: Token;
  DisablePersonInput: DisablePersonInput;
  DisablePersonPayload: DisablePersonPayload;
  RevokeTokenInput: RevokeTokenInput;
  RevokeTokenPayload: RevokeTokenPayload;
  PersonConnection: PersonConnection;
  PersonEdge: PersonEdge;
  Thumbnail: Thumbnail;
  StepPicture: Omit<StepPicture, 'photo'> & { photo: ResolversParentTypes['Photo'] };
  AddPhotoInput: AddPhotoInput;
  PhotoRegionInput: PhotoRegionInput;
  ChangePhotoInput: ChangePhotoInput;
  RecordMeasurementInput: RecordMeasurementInput;
  AddPhotoPayload: Omit<AddPhotoPayload, 'photo'> & { photo?: Maybe<ResolversParentTypes['Photo']> };
  ChangePhotoPayload: Omit<ChangePhotoPayload, 'photo'> & { photo?: Maybe<ResolversParentTypes['Photo']> };
  RecordMeasurementPayload: Omit<RecordMeasurementPayload, 'observation'> & { observation?: Maybe<ResolversParentTypes['Observation']> };
  AlikePhoto: Omit<AlikePhoto, 'photo'> & { photo: ResolversParentTypes['Photo'] };
  PresenceSubjectInput: PresenceSubjectInput;
  DevicePresence: DevicePresence;
  SpecimenPresence: SpecimenPresence;
  Publication: PublicationSource;
  Claim: ClaimSource;
  Source: SourceSource;
  PublicationConnection: Omit<PublicationConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversParentTypes['PublicationEdge']>, nodes: ReadonlyArray<ResolversParentTypes['Publication']> };
  PublicationEdge: Omit<PublicationEdge, 'node'> & { node: ResolversParentTypes['Publication'] };
  SimilarDevices: Omit<SimilarDevices, 'of' | 'devices'> & { of: ResolversParentTypes['ComparedDevice'], devices: ReadonlyArray<ResolversParentTypes['SimilarDevice']> };
  SimilarDevice: SimilarDeviceSource;
  SharedNeighbourhood: SharedNeighbourhood;
  DeviceClusters: Omit<DeviceClusters, 'clusters'> & { clusters: ReadonlyArray<ResolversParentTypes['DeviceCluster']> };
  DeviceCluster: DeviceClusterSource;
  ClusterMember: Omit<ClusterMember, 'device'> & { device: ResolversParentTypes['Device'] };
  ClusterMark: ClusterMark;
  CircuitDistance: CircuitDistanceSource;
  CircuitNodeConnection: CircuitNodeConnection;
  CircuitNodeEdge: CircuitNodeEdge;
  CircuitNode: CircuitNode;
  ClusterMemberConnection: Omit<ClusterMemberConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversParentTypes['ClusterMemberEdge']>, nodes: ReadonlyArray<ResolversParentTypes['ClusterMember']> };
  ClusterMemberEdge: Omit<ClusterMemberEdge, 'node'> & { node: ResolversParentTypes['ClusterMember'] };
  Recalled: Recalled;
  Specimen: SpecimenSource;
  Teardown: TeardownSource;
  TeardownStep: TeardownStepSource;
  Board: BoardSource;
  Hole: Omit<Hole, 'outline'> & { outline: ReadonlyArray<ResolversParentTypes['Point']> };
  Subsystem: SubsystemSource;
  PhysicalLink: PhysicalLinkSource;
  Observation: ObservationSource;
  MarkingSuggestion: MarkingSuggestion;
  Photo: PhotoSource;
  Picture: PictureSource;
  PhotoRegion: PhotoRegionSource;
  PhysicalLinkConnection: Omit<PhysicalLinkConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversParentTypes['PhysicalLinkEdge']>, nodes: ReadonlyArray<ResolversParentTypes['PhysicalLink']> };
  PhysicalLinkEdge: Omit<PhysicalLinkEdge, 'node'> & { node: ResolversParentTypes['PhysicalLink'] };
  ObservationConnection: Omit<ObservationConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversParentTypes['ObservationEdge']>, nodes: ReadonlyArray<ResolversParentTypes['Observation']> };
  ObservationEdge: Omit<ObservationEdge, 'node'> & { node: ResolversParentTypes['Observation'] };
  SpecimenConnection: Omit<SpecimenConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversParentTypes['SpecimenEdge']>, nodes: ReadonlyArray<ResolversParentTypes['Specimen']> };
  SpecimenEdge: Omit<SpecimenEdge, 'node'> & { node: ResolversParentTypes['Specimen'] };
  StructureInterval: StructureInterval;
  StructureLink: StructureLink;
  StructureChance: StructureChance;
  StructureTrend: StructureTrend;
  KnownStructure: Omit<KnownStructure, 'pattern'> & { pattern: ResolversParentTypes['Pattern'] };
  Structure: StructureSource;
  Structures: Omit<Structures, 'structures'> & { structures: ReadonlyArray<ResolversParentTypes['Structure']> };
  SavePatternInput: SavePatternInput;
  SavePatternPayload: Omit<SavePatternPayload, 'pattern'> & { pattern: ResolversParentTypes['Pattern'] };
  TradeFileInput: TradeFileInput;
  TradeColumnInput: TradeColumnInput;
  ImportTradeFilesInput: ImportTradeFilesInput;
  TradeColumn: TradeColumn;
  TradeRow: TradeRow;
  TradeSkippedRow: TradeSkippedRow;
  TradeTable: TradeTable;
  TradeFileReading: TradeFileReading;
  TradeBoardReport: TradeBoardReport;
  TradeProposal: TradeProposal;
  TradeMissing: TradeMissing;
  TradeDifference: TradeDifference;
  TradeConflict: TradeConflict;
  TradeCaution: TradeCaution;
  TradeReport: TradeReport;
  ImportTradeFilesPayload: Omit<ImportTradeFilesPayload, 'specimen'> & { specimen?: Maybe<ResolversParentTypes['Specimen']> };
  TrendSubject: TrendSubject;
  TrendQuantity: TrendQuantity;
  TrendMeasure: TrendMeasure;
  TrendQuestion: TrendQuestion;
  TrendInterval: TrendInterval;
  TrendMedian: TrendMedian;
  TrendDistribution: TrendDistribution;
  TrendCell: TrendCell;
  TrendPeriod: TrendPeriod;
  TrendTest: TrendTest;
  TrendLineTest: TrendLineTest;
  TrendVerdict: TrendVerdict;
  TrendSeries: TrendSeries;
  TrendAdopter: Omit<TrendAdopter, 'device'> & { device: ResolversParentTypes['Device'] };
  Trend: TrendSource;
  Webhook: Webhook;
  WebhookMessage: WebhookMessage;
  WebhookConnection: WebhookConnection;
  WebhookEdge: WebhookEdge;
  RegisterWebhookInput: RegisterWebhookInput;
  RegisterWebhookPayload: RegisterWebhookPayload;
  RotateWebhookSecretInput: RotateWebhookSecretInput;
  RotateWebhookSecretPayload: RotateWebhookSecretPayload;
  ResumeWebhookInput: ResumeWebhookInput;
  ResumeWebhookPayload: ResumeWebhookPayload;
  TestWebhookInput: TestWebhookInput;
  TestWebhookPayload: TestWebhookPayload;
  RemoveWebhookInput: RemoveWebhookInput;
  RemoveWebhookPayload: RemoveWebhookPayload;
  PowerFeed: PowerFeedSource;
  SignalPath: SignalPathSource;
  SharedBus: SharedBusSource;
  PowerFeedConnection: Omit<PowerFeedConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversParentTypes['PowerFeedEdge']>, nodes: ReadonlyArray<ResolversParentTypes['PowerFeed']> };
  PowerFeedEdge: Omit<PowerFeedEdge, 'node'> & { node: ResolversParentTypes['PowerFeed'] };
  SignalPathConnection: Omit<SignalPathConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversParentTypes['SignalPathEdge']>, nodes: ReadonlyArray<ResolversParentTypes['SignalPath']> };
  SignalPathEdge: Omit<SignalPathEdge, 'node'> & { node: ResolversParentTypes['SignalPath'] };
  SharedBusConnection: Omit<SharedBusConnection, 'edges' | 'nodes'> & { edges: ReadonlyArray<ResolversParentTypes['SharedBusEdge']>, nodes: ReadonlyArray<ResolversParentTypes['SharedBus']> };
  SharedBusEdge: Omit<SharedBusEdge, 'node'> & { node: ResolversParentTypes['SharedBus'] };
  Int: Scalars['Int']['output'];
};

export type CostDirectiveArgs = {
  weight: Scalars['Int']['input'];
};

export type CostDirectiveResolver<Result, Parent, ContextType = Context, Args = CostDirectiveArgs> = DirectiveResolverFn<Result, Parent, ContextType, Args>;

export type NodeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Node'] = ResolversParentTypes['Node']> = {
  __resolveType: TypeResolveFn<'Component' | 'Decision' | 'Device' | 'Feed' | 'ListMapping' | 'Maker' | 'ProductLine' | 'Net' | 'Part' | 'Pattern' | 'Publication' | 'Claim' | 'Source' | 'Specimen' | 'Teardown' | 'Board' | 'Subsystem' | 'Observation' | 'Photo', ParentType, ContextType>;
};

export type QueryResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Query'] = ResolversParentTypes['Query']> = {
  node?: Resolver<Maybe<ResolversTypes['Node']>, ParentType, ContextType, RequireFields<QueryNodeArgs, 'id'>>;
  archive?: Resolver<Maybe<ResolversTypes['Archive']>, ParentType, ContextType>;
  search?: Resolver<Maybe<ResolversTypes['SearchHitConnection']>, ParentType, ContextType, RequireFields<QuerySearchArgs, 'text'>>;
  taxonomy?: Resolver<Maybe<ReadonlyArray<ResolversTypes['Term']>>, ParentType, ContextType, Partial<QueryTaxonomyArgs>>;
  asOf?: Resolver<Maybe<ResolversTypes['Query']>, ParentType, ContextType, RequireFields<QueryAsOfArgs, 'instant'>>;
  compareDevices?: Resolver<Maybe<ResolversTypes['Comparison']>, ParentType, ContextType, RequireFields<QueryCompareDevicesArgs, 'ids'>>;
  components?: Resolver<Maybe<ResolversTypes['ComponentConnection']>, ParentType, ContextType, RequireFields<QueryComponentsArgs, 'orderBy'>>;
  decision?: Resolver<Maybe<ResolversTypes['Decision']>, ParentType, ContextType, RequireFields<QueryDecisionArgs, 'id'>>;
  decisions?: Resolver<Maybe<ResolversTypes['DecisionConnection']>, ParentType, ContextType, RequireFields<QueryDecisionsArgs, 'minimumProbability' | 'includeRejected'>>;
  designChecks?: Resolver<Maybe<ReadonlyArray<ResolversTypes['DesignCheck']>>, ParentType, ContextType>;
  calculate?: Resolver<Maybe<ResolversTypes['CheckResult']>, ParentType, ContextType, RequireFields<QueryCalculateArgs, 'check' | 'inputs'>>;
  patternCheck?: Resolver<Maybe<ResolversTypes['BoundCheck']>, ParentType, ContextType, RequireFields<QueryPatternCheckArgs, 'pattern' | 'device' | 'given'>>;
  deviceChecks?: Resolver<Maybe<ReadonlyArray<ResolversTypes['BoundCheck']>>, ParentType, ContextType, RequireFields<QueryDeviceChecksArgs, 'device' | 'given'>>;
  device?: Resolver<Maybe<ResolversTypes['Device']>, ParentType, ContextType, RequireFields<QueryDeviceArgs, 'id'>>;
  devices?: Resolver<Maybe<ResolversTypes['DeviceConnection']>, ParentType, ContextType, RequireFields<QueryDevicesArgs, 'orderBy'>>;
  boardsSideBySide?: Resolver<Maybe<ResolversTypes['Drawing']>, ParentType, ContextType, RequireFields<QueryBoardsSideBySideArgs, 'ids'>>;
  auditClaims?: Resolver<Maybe<ResolversTypes['AuditedClaimConnection']>, ParentType, ContextType, RequireFields<QueryAuditClaimsArgs, 'includeFitting'>>;
  impactOf?: Resolver<Maybe<ResolversTypes['Impact']>, ParentType, ContextType, RequireFields<QueryImpactOfArgs, 'id'>>;
  whatIf?: Resolver<Maybe<ResolversTypes['Difference']>, ParentType, ContextType, RequireFields<QueryWhatIfArgs, 'change'>>;
  corrections?: Resolver<Maybe<ResolversTypes['CorrectionConnection']>, ParentType, ContextType, Partial<QueryCorrectionsArgs>>;
  exports?: Resolver<Maybe<ReadonlyArray<ResolversTypes['Export']>>, ParentType, ContextType, Partial<QueryExportsArgs>>;
  feed?: Resolver<Maybe<ResolversTypes['Feed']>, ParentType, ContextType, RequireFields<QueryFeedArgs, 'id'>>;
  feeds?: Resolver<Maybe<ResolversTypes['FeedConnection']>, ParentType, ContextType, Partial<QueryFeedsArgs>>;
  generations?: Resolver<Maybe<ResolversTypes['Generations']>, ParentType, ContextType, RequireFields<QueryGenerationsArgs, 'productLine'>>;
  history?: Resolver<Maybe<ResolversTypes['HistoryEntryConnection']>, ParentType, ContextType, RequireFields<QueryHistoryArgs, 'id'>>;
  difference?: Resolver<Maybe<ResolversTypes['ArchiveDifference']>, ParentType, ContextType, RequireFields<QueryDifferenceArgs, 'from'>>;
  candidates?: Resolver<Maybe<ResolversTypes['Candidates']>, ParentType, ContextType, RequireFields<QueryCandidatesArgs, 'component'>>;
  nextObservations?: Resolver<Maybe<ReadonlyArray<ResolversTypes['NextObservation']>>, ParentType, ContextType, RequireFields<QueryNextObservationsArgs, 'of' | 'first' | 'includeDestructive'>>;
  readMarking?: Resolver<Maybe<ResolversTypes['MarkingReading']>, ParentType, ContextType, RequireFields<QueryReadMarkingArgs, 'text'>>;
  readPhoto?: Resolver<Maybe<ResolversTypes['PhotoReading']>, ParentType, ContextType, RequireFields<QueryReadPhotoArgs, 'of'>>;
  calibration?: Resolver<Maybe<ResolversTypes['Calibration']>, ParentType, ContextType, RequireFields<QueryCalibrationArgs, 'seed'>>;
  disagreements?: Resolver<Maybe<ResolversTypes['DisagreementConnection']>, ParentType, ContextType, Partial<QueryDisagreementsArgs>>;
  linkedData?: Resolver<Maybe<ResolversTypes['Json']>, ParentType, ContextType, RequireFields<QueryLinkedDataArgs, 'id'>>;
  listMapping?: Resolver<Maybe<ResolversTypes['ListMapping']>, ParentType, ContextType, RequireFields<QueryListMappingArgs, 'id'>>;
  listMappings?: Resolver<Maybe<ResolversTypes['ListMappingConnection']>, ParentType, ContextType, Partial<QueryListMappingsArgs>>;
  maker?: Resolver<Maybe<ResolversTypes['Maker']>, ParentType, ContextType, RequireFields<QueryMakerArgs, 'id'>>;
  makers?: Resolver<Maybe<ResolversTypes['MakerConnection']>, ParentType, ContextType, Partial<QueryMakersArgs>>;
  productLine?: Resolver<Maybe<ResolversTypes['ProductLine']>, ParentType, ContextType, RequireFields<QueryProductLineArgs, 'id'>>;
  productLines?: Resolver<Maybe<ResolversTypes['ProductLineConnection']>, ParentType, ContextType, Partial<QueryProductLinesArgs>>;
  measure?: Resolver<Maybe<ResolversTypes['PhotoMeasurement']>, ParentType, ContextType, RequireFields<QueryMeasureArgs, 'picked' | 'places' | 'lengths' | 'bodies'>>;
  part?: Resolver<Maybe<ResolversTypes['Part']>, ParentType, ContextType, RequireFields<QueryPartArgs, 'id'>>;
  parts?: Resolver<Maybe<ResolversTypes['PartConnection']>, ParentType, ContextType, RequireFields<QueryPartsArgs, 'orderBy'>>;
  patternRows?: Resolver<Maybe<ResolversTypes['PatternRows']>, ParentType, ContextType, RequireFields<QueryPatternRowsArgs, 'text' | 'distinctNodes'>>;
  explainPattern?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType, RequireFields<QueryExplainPatternArgs, 'text' | 'distinctNodes'>>;
  patternSql?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType, RequireFields<QueryPatternSqlArgs, 'text' | 'distinctNodes' | 'dialect'>>;
  findPattern?: Resolver<Maybe<ResolversTypes['PatternDeviceConnection']>, ParentType, ContextType, RequireFields<QueryFindPatternArgs, 'distinctNodes'>>;
  pattern?: Resolver<Maybe<ResolversTypes['Pattern']>, ParentType, ContextType, RequireFields<QueryPatternArgs, 'id'>>;
  patterns?: Resolver<Maybe<ResolversTypes['PatternConnection']>, ParentType, ContextType, Partial<QueryPatternsArgs>>;
  me?: Resolver<ResolversTypes['Asker'], ParentType, ContextType>;
  people?: Resolver<Maybe<ResolversTypes['PersonConnection']>, ParentType, ContextType, Partial<QueryPeopleArgs>>;
  publication?: Resolver<Maybe<ResolversTypes['Publication']>, ParentType, ContextType, RequireFields<QueryPublicationArgs, 'id'>>;
  publications?: Resolver<Maybe<ResolversTypes['PublicationConnection']>, ParentType, ContextType, Partial<QueryPublicationsArgs>>;
  source?: Resolver<Maybe<ResolversTypes['Source']>, ParentType, ContextType, RequireFields<QuerySourceArgs, 'id'>>;
  similarDevices?: Resolver<Maybe<ResolversTypes['SimilarDevices']>, ParentType, ContextType, RequireFields<QuerySimilarDevicesArgs, 'id' | 'first' | 'iterations'>>;
  deviceClusters?: Resolver<Maybe<ResolversTypes['DeviceClusters']>, ParentType, ContextType, RequireFields<QueryDeviceClustersArgs, 'iterations' | 'resolution' | 'seed'>>;
  circuitDistance?: Resolver<Maybe<ResolversTypes['CircuitDistance']>, ParentType, ContextType, RequireFields<QueryCircuitDistanceArgs, 'from' | 'to'>>;
  specimen?: Resolver<Maybe<ResolversTypes['Specimen']>, ParentType, ContextType, RequireFields<QuerySpecimenArgs, 'id'>>;
  structures?: Resolver<Maybe<ResolversTypes['Structures']>, ParentType, ContextType, RequireFields<QueryStructuresArgs, 'minSize' | 'maxSize' | 'without' | 'links' | 'distinguishBoards' | 'order' | 'includeVariants' | 'onlyUnnamed' | 'first'>>;
  trend?: Resolver<Maybe<ResolversTypes['Trend']>, ParentType, ContextType, RequireFields<QueryTrendArgs, 'of' | 'per'>>;
  trends?: Resolver<Maybe<ReadonlyArray<ResolversTypes['Trend']>>, ParentType, ContextType, RequireFields<QueryTrendsArgs, 'questions'>>;
  webhooks?: Resolver<Maybe<ResolversTypes['WebhookConnection']>, ParentType, ContextType, Partial<QueryWebhooksArgs>>;
};

export type ArchiveResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Archive'] = ResolversParentTypes['Archive']> = {
  devices?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  specimens?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  components?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  parts?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  makers?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  productLines?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  publications?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  patterns?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  firstYear?: Resolver<Maybe<ResolversTypes['Int']>, ParentType, ContextType>;
  lastYear?: Resolver<Maybe<ResolversTypes['Int']>, ParentType, ContextType>;
  inventedDevices?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  citation?: Resolver<ResolversTypes['Json'], ParentType, ContextType>;
  sequence?: Resolver<Maybe<ResolversTypes['Int']>, ParentType, ContextType>;
  treeHead?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  changedAt?: Resolver<Maybe<ResolversTypes['DateTime']>, ParentType, ContextType>;
};

export type SearchHitResolvers<ContextType = Context, ParentType extends ResolversParentTypes['SearchHit'] = ResolversParentTypes['SearchHit']> = {
  id?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  kind?: Resolver<ResolversTypes['SearchKind'], ParentType, ContextType>;
  title?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<Maybe<ResolversTypes['Node']>, ParentType, ContextType>;
};

export type TermResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Term'] = ResolversParentTypes['Term']> = {
  name?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  meaning?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  parent?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  above?: Resolver<ReadonlyArray<ResolversTypes['String']>, ParentType, ContextType>;
  below?: Resolver<ReadonlyArray<ResolversTypes['String']>, ParentType, ContextType>;
};

export type SearchHitConnectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['SearchHitConnection'] = ResolversParentTypes['SearchHitConnection']> = {
  edges?: Resolver<ReadonlyArray<ResolversTypes['SearchHitEdge']>, ParentType, ContextType>;
  nodes?: Resolver<ReadonlyArray<ResolversTypes['SearchHit']>, ParentType, ContextType>;
  pageInfo?: Resolver<ResolversTypes['PageInfo'], ParentType, ContextType>;
  totalCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  isComplete?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
};

export type SearchHitEdgeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['SearchHitEdge'] = ResolversParentTypes['SearchHitEdge']> = {
  cursor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<ResolversTypes['SearchHit'], ParentType, ContextType>;
};

export type JournalEntryResolvers<ContextType = Context, ParentType extends ResolversParentTypes['JournalEntry'] = ResolversParentTypes['JournalEntry']> = {
  sequence?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  id?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  instant?: Resolver<ResolversTypes['DateTime'], ParentType, ContextType>;
  actor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  reason?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  kind?: Resolver<ResolversTypes['EntryKind'], ParentType, ContextType>;
  hash?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
};

export type ChangeCautionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ChangeCaution'] = ResolversParentTypes['ChangeCaution']> = {
  file?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  line?: Resolver<Maybe<ResolversTypes['Int']>, ParentType, ContextType>;
  column?: Resolver<Maybe<ResolversTypes['Int']>, ParentType, ContextType>;
  path?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  what?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  fix?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
};

export type ImportDossierPayloadResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ImportDossierPayload'] = ResolversParentTypes['ImportDossierPayload']> = {
  entries?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  records?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  dossiers?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  photos?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  specimens?: Resolver<ReadonlyArray<ResolversTypes['Specimen']>, ParentType, ContextType>;
  entry?: Resolver<Maybe<ResolversTypes['JournalEntry']>, ParentType, ContextType>;
  readers?: Resolver<ResolversTypes['ReadersDifference'], ParentType, ContextType>;
  cautions?: Resolver<ReadonlyArray<ResolversTypes['ChangeCaution']>, ParentType, ContextType>;
};

export type ReadersDifferenceResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ReadersDifference'] = ResolversParentTypes['ReadersDifference']> = {
  addedCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  added?: Resolver<ReadonlyArray<ResolversTypes['ID']>, ParentType, ContextType>;
  changedCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  changed?: Resolver<ReadonlyArray<ResolversTypes['ID']>, ParentType, ContextType>;
  goneCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  gone?: Resolver<ReadonlyArray<ResolversTypes['ID']>, ParentType, ContextType>;
};

export type RecallPayloadResolvers<ContextType = Context, ParentType extends ResolversParentTypes['RecallPayload'] = ResolversParentTypes['RecallPayload']> = {
  ids?: Resolver<ReadonlyArray<ResolversTypes['ID']>, ParentType, ContextType>;
  readers?: Resolver<ResolversTypes['ReadersDifference'], ParentType, ContextType>;
  entry?: Resolver<ResolversTypes['JournalEntry'], ParentType, ContextType>;
};

export type RecordObservationPayloadResolvers<ContextType = Context, ParentType extends ResolversParentTypes['RecordObservationPayload'] = ResolversParentTypes['RecordObservationPayload']> = {
  observation?: Resolver<Maybe<ResolversTypes['Observation']>, ParentType, ContextType>;
  entry?: Resolver<ResolversTypes['JournalEntry'], ParentType, ContextType>;
  cautions?: Resolver<ReadonlyArray<ResolversTypes['ChangeCaution']>, ParentType, ContextType>;
};

export type SetIdentificationPayloadResolvers<ContextType = Context, ParentType extends ResolversParentTypes['SetIdentificationPayload'] = ResolversParentTypes['SetIdentificationPayload']> = {
  component?: Resolver<Maybe<ResolversTypes['Component']>, ParentType, ContextType>;
  entry?: Resolver<ResolversTypes['JournalEntry'], ParentType, ContextType>;
  cautions?: Resolver<ReadonlyArray<ResolversTypes['ChangeCaution']>, ParentType, ContextType>;
};

export type MutationResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Mutation'] = ResolversParentTypes['Mutation']> = {
  importDossier?: Resolver<Maybe<ResolversTypes['ImportDossierPayload']>, ParentType, ContextType, RequireFields<MutationImportDossierArgs, 'input'>>;
  recall?: Resolver<Maybe<ResolversTypes['RecallPayload']>, ParentType, ContextType, RequireFields<MutationRecallArgs, 'input'>>;
  recordObservation?: Resolver<Maybe<ResolversTypes['RecordObservationPayload']>, ParentType, ContextType, RequireFields<MutationRecordObservationArgs, 'input'>>;
  setIdentification?: Resolver<Maybe<ResolversTypes['SetIdentificationPayload']>, ParentType, ContextType, RequireFields<MutationSetIdentificationArgs, 'input'>>;
  judgeDecision?: Resolver<Maybe<ResolversTypes['JudgeDecisionPayload']>, ParentType, ContextType, RequireFields<MutationJudgeDecisionArgs, 'input'>>;
  correct?: Resolver<Maybe<ResolversTypes['CorrectPayload']>, ParentType, ContextType, RequireFields<MutationCorrectArgs, 'input'>>;
  saveFeed?: Resolver<Maybe<ResolversTypes['SaveFeedPayload']>, ParentType, ContextType, RequireFields<MutationSaveFeedArgs, 'input'>>;
  correctClock?: Resolver<Maybe<ResolversTypes['CorrectClockPayload']>, ParentType, ContextType, RequireFields<MutationCorrectClockArgs, 'input'>>;
  judgeIdentification?: Resolver<Maybe<ResolversTypes['JudgeIdentificationPayload']>, ParentType, ContextType, RequireFields<MutationJudgeIdentificationArgs, 'input'>>;
  withdrawObservation?: Resolver<Maybe<ResolversTypes['WithdrawObservationPayload']>, ParentType, ContextType, RequireFields<MutationWithdrawObservationArgs, 'input'>>;
  saveListMapping?: Resolver<Maybe<ResolversTypes['SaveListMappingPayload']>, ParentType, ContextType, RequireFields<MutationSaveListMappingArgs, 'input'>>;
  disablePerson?: Resolver<Maybe<ResolversTypes['DisablePersonPayload']>, ParentType, ContextType, RequireFields<MutationDisablePersonArgs, 'input'>>;
  revokeToken?: Resolver<Maybe<ResolversTypes['RevokeTokenPayload']>, ParentType, ContextType, RequireFields<MutationRevokeTokenArgs, 'input'>>;
  addPhoto?: Resolver<Maybe<ResolversTypes['AddPhotoPayload']>, ParentType, ContextType, RequireFields<MutationAddPhotoArgs, 'input'>>;
  changePhoto?: Resolver<Maybe<ResolversTypes['ChangePhotoPayload']>, ParentType, ContextType, RequireFields<MutationChangePhotoArgs, 'input'>>;
  recordMeasurement?: Resolver<Maybe<ResolversTypes['RecordMeasurementPayload']>, ParentType, ContextType, RequireFields<MutationRecordMeasurementArgs, 'input'>>;
  savePattern?: Resolver<Maybe<ResolversTypes['SavePatternPayload']>, ParentType, ContextType, RequireFields<MutationSavePatternArgs, 'input'>>;
  importTradeFiles?: Resolver<Maybe<ResolversTypes['ImportTradeFilesPayload']>, ParentType, ContextType, RequireFields<MutationImportTradeFilesArgs, 'input'>>;
  registerWebhook?: Resolver<Maybe<ResolversTypes['RegisterWebhookPayload']>, ParentType, ContextType, RequireFields<MutationRegisterWebhookArgs, 'input'>>;
  rotateWebhookSecret?: Resolver<Maybe<ResolversTypes['RotateWebhookSecretPayload']>, ParentType, ContextType, RequireFields<MutationRotateWebhookSecretArgs, 'input'>>;
  resumeWebhook?: Resolver<Maybe<ResolversTypes['ResumeWebhookPayload']>, ParentType, ContextType, RequireFields<MutationResumeWebhookArgs, 'input'>>;
  testWebhook?: Resolver<Maybe<ResolversTypes['TestWebhookPayload']>, ParentType, ContextType, RequireFields<MutationTestWebhookArgs, 'input'>>;
  removeWebhook?: Resolver<Maybe<ResolversTypes['RemoveWebhookPayload']>, ParentType, ContextType, RequireFields<MutationRemoveWebhookArgs, 'input'>>;
};

export type ChartResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Chart'] = ResolversParentTypes['Chart']> = {
  title?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  subtitle?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  n?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  description?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  columns?: Resolver<ReadonlyArray<ResolversTypes['String']>, ParentType, ContextType>;
  rows?: Resolver<ReadonlyArray<ReadonlyArray<ResolversTypes['String']>>, ParentType, ContextType>;
  cautions?: Resolver<ReadonlyArray<ResolversTypes['String']>, ParentType, ContextType>;
  vegaLite?: Resolver<ResolversTypes['Json'], ParentType, ContextType>;
  svg?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
};

export interface PartialDateScalarConfig extends GraphQLScalarTypeConfig<ResolversTypes['PartialDate'], any> {
  name: 'PartialDate';
}

export interface DateTimeScalarConfig extends GraphQLScalarTypeConfig<ResolversTypes['DateTime'], any> {
  name: 'DateTime';
}

export type QuantityResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Quantity'] = ResolversParentTypes['Quantity']> = {
  value?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  unit?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  plusMinus?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  text?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  in?: Resolver<Maybe<ResolversTypes['Quantity']>, ParentType, ContextType, RequireFields<QuantityInArgs, 'unit'>>;
};

export type DimensionsResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Dimensions'] = ResolversParentTypes['Dimensions']> = {
  length?: Resolver<ResolversTypes['Quantity'], ParentType, ContextType>;
  width?: Resolver<ResolversTypes['Quantity'], ParentType, ContextType>;
  height?: Resolver<Maybe<ResolversTypes['Quantity']>, ParentType, ContextType>;
};

export type BodySizeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['BodySize'] = ResolversParentTypes['BodySize']> = {
  length?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  width?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  height?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
};

export type PointResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Point'] = ResolversParentTypes['Point']> = {
  x?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  y?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
};

export type MoneyResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Money'] = ResolversParentTypes['Money']> = {
  amount?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  currency?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
};

export type PageInfoResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PageInfo'] = ResolversParentTypes['PageInfo']> = {
  hasNextPage?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
  hasPreviousPage?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
  startCursor?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  endCursor?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
};

export type ComparisonResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Comparison'] = ResolversParentTypes['Comparison']> = {
  columns?: Resolver<ReadonlyArray<ResolversTypes['ComparedDevice']>, ParentType, ContextType>;
  sensors?: Resolver<ReadonlyArray<ResolversTypes['KindRow']>, ParentType, ContextType>;
  processors?: Resolver<ReadonlyArray<ResolversTypes['KindRow']>, ParentType, ContextType>;
  subsystems?: Resolver<ReadonlyArray<ResolversTypes['SubsystemRow']>, ParentType, ContextType>;
  sections?: Resolver<Maybe<ReadonlyArray<ResolversTypes['ComparisonSection']>>, ParentType, ContextType, Partial<ComparisonSectionsArgs>>;
  alignment?: Resolver<Maybe<ResolversTypes['Alignment']>, ParentType, ContextType, Partial<ComparisonAlignmentArgs>>;
  chart?: Resolver<Maybe<ResolversTypes['Chart']>, ParentType, ContextType, RequireFields<ComparisonChartArgs, 'sections' | 'size'>>;
};

export type ComparedDeviceResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ComparedDevice'] = ResolversParentTypes['ComparedDevice']> = {
  device?: Resolver<ResolversTypes['Device'], ParentType, ContextType>;
  specimen?: Resolver<ResolversTypes['Specimen'], ParentType, ContextType>;
  otherSpecimens?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type KindRowResolvers<ContextType = Context, ParentType extends ResolversParentTypes['KindRow'] = ResolversParentTypes['KindRow']> = {
  kind?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  meaning?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  counts?: Resolver<ReadonlyArray<ResolversTypes['KindCount']>, ParentType, ContextType>;
};

export type SubsystemRowResolvers<ContextType = Context, ParentType extends ResolversParentTypes['SubsystemRow'] = ResolversParentTypes['SubsystemRow']> = {
  kind?: Resolver<Maybe<ResolversTypes['SubsystemKind']>, ParentType, ContextType>;
  components?: Resolver<ReadonlyArray<Maybe<ResolversTypes['Int']>>, ParentType, ContextType>;
};

export type ComparisonSectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ComparisonSection'] = ResolversParentTypes['ComparisonSection']> = {
  key?: Resolver<ResolversTypes['ComparisonSectionKey'], ParentType, ContextType>;
  label?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  rows?: Resolver<ReadonlyArray<ResolversTypes['ComparisonRow']>, ParentType, ContextType>;
};

export type ComparisonRowResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ComparisonRow'] = ResolversParentTypes['ComparisonRow']> = {
  key?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  label?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  unit?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  meaning?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  presentIn?: Resolver<Maybe<ResolversTypes['Int']>, ParentType, ContextType>;
  cells?: Resolver<ReadonlyArray<ResolversTypes['ComparisonCell']>, ParentType, ContextType>;
};

export type ComparisonCellResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ComparisonCell'] = ResolversParentTypes['ComparisonCell']> = {
  certain?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  expected?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  possible?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  missing?: Resolver<Maybe<ResolversTypes['MissingFigure']>, ParentType, ContextType>;
  note?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
};

export type AlignmentResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Alignment'] = ResolversParentTypes['Alignment']> = {
  rows?: Resolver<ReadonlyArray<ResolversTypes['AlignmentRow']>, ParentType, ContextType>;
  steps?: Resolver<ReadonlyArray<ResolversTypes['AlignmentStep']>, ParentType, ContextType>;
  weights?: Resolver<ReadonlyArray<ResolversTypes['AlignmentWeight']>, ParentType, ContextType>;
};

export type AlignmentRowResolvers<ContextType = Context, ParentType extends ResolversParentTypes['AlignmentRow'] = ResolversParentTypes['AlignmentRow']> = {
  role?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  cells?: Resolver<ReadonlyArray<Maybe<ResolversTypes['AlignedComponent']>>, ParentType, ContextType>;
  changes?: Resolver<ReadonlyArray<Maybe<ResolversTypes['ComponentChange']>>, ParentType, ContextType>;
};

export type AlignedComponentResolvers<ContextType = Context, ParentType extends ResolversParentTypes['AlignedComponent'] = ResolversParentTypes['AlignedComponent']> = {
  component?: Resolver<ResolversTypes['Component'], ParentType, ContextType>;
  part?: Resolver<Maybe<ResolversTypes['Part']>, ParentType, ContextType>;
  probability?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
};

export type ComponentChangeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ComponentChange'] = ResolversParentTypes['ComponentChange']> = {
  change?: Resolver<ResolversTypes['ComponentChangeKind'], ParentType, ContextType>;
  certainty?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  pairing?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  samePart?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  isElsewhere?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
  reason?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
};

export type AlignmentStepResolvers<ContextType = Context, ParentType extends ResolversParentTypes['AlignmentStep'] = ResolversParentTypes['AlignmentStep']> = {
  from?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  to?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  tallies?: Resolver<ReadonlyArray<ResolversTypes['ChangeTally']>, ParentType, ContextType>;
};

export type ChangeTallyResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ChangeTally'] = ResolversParentTypes['ChangeTally']> = {
  change?: Resolver<ResolversTypes['ComponentChangeKind'], ParentType, ContextType>;
  rows?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  certain?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  expected?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
};

export type AlignmentWeightResolvers<ContextType = Context, ParentType extends ResolversParentTypes['AlignmentWeight'] = ResolversParentTypes['AlignmentWeight']> = {
  name?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  value?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  meaning?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
};

export type ComponentResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Component'] = ResolversParentTypes['Component']> = {
  id?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  designator?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  printed?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
  specimen?: Resolver<ResolversTypes['Specimen'], ParentType, ContextType>;
  device?: Resolver<Maybe<ResolversTypes['Device']>, ParentType, ContextType>;
  board?: Resolver<Maybe<ResolversTypes['Board']>, ParentType, ContextType>;
  side?: Resolver<Maybe<ResolversTypes['Side']>, ParentType, ContextType>;
  at?: Resolver<Maybe<ResolversTypes['Point']>, ParentType, ContextType>;
  rotation?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  body?: Resolver<Maybe<ResolversTypes['BodySize']>, ParentType, ContextType>;
  package?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  value?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  fitted?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
  counted?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
  pins?: Resolver<Maybe<ResolversTypes['Int']>, ParentType, ContextType>;
  pinout?: Resolver<Maybe<ReadonlyArray<ResolversTypes['Pin']>>, ParentType, ContextType>;
  marking?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  reading?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  appears?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  subsystem?: Resolver<Maybe<ResolversTypes['Subsystem']>, ParentType, ContextType>;
  inside?: Resolver<Maybe<ResolversTypes['Component']>, ParentType, ContextType>;
  holds?: Resolver<ReadonlyArray<ResolversTypes['Component']>, ParentType, ContextType>;
  labels?: Resolver<ReadonlyArray<ResolversTypes['Label']>, ParentType, ContextType>;
  category?: Resolver<Maybe<ResolversTypes['Label']>, ParentType, ContextType>;
  identification?: Resolver<Maybe<ResolversTypes['Identification']>, ParentType, ContextType>;
  identifications?: Resolver<ReadonlyArray<ResolversTypes['Identification']>, ParentType, ContextType>;
  observations?: Resolver<Maybe<ResolversTypes['ObservationConnection']>, ParentType, ContextType, Partial<ComponentObservationsArgs>>;
  links?: Resolver<Maybe<ResolversTypes['PhysicalLinkConnection']>, ParentType, ContextType, Partial<ComponentLinksArgs>>;
  note?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  candidates?: Resolver<Maybe<ResolversTypes['Candidates']>, ParentType, ContextType>;
  __isTypeOf?: IsTypeOfResolverFn<ParentType, ContextType>;
};

export type LabelResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Label'] = ResolversParentTypes['Label']> = {
  term?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  meaning?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  probability?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  isCertain?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
};

export type IdentificationResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Identification'] = ResolversParentTypes['Identification']> = {
  component?: Resolver<Maybe<ResolversTypes['Component']>, ParentType, ContextType>;
  state?: Resolver<ResolversTypes['IdentificationState'], ParentType, ContextType>;
  isCurrent?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
  candidates?: Resolver<ReadonlyArray<ResolversTypes['Candidate']>, ParentType, ContextType>;
  unknown?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  basis?: Resolver<ReadonlyArray<ResolversTypes['Observation']>, ParentType, ContextType>;
  cites?: Resolver<ReadonlyArray<ResolversTypes['Node']>, ParentType, ContextType>;
  by?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  on?: Resolver<Maybe<ResolversTypes['PartialDate']>, ParentType, ContextType>;
  reason?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  visibility?: Resolver<Maybe<ResolversTypes['Visibility']>, ParentType, ContextType>;
  embargoUntil?: Resolver<Maybe<ResolversTypes['DateTime']>, ParentType, ContextType>;
};

export type CandidateResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Candidate'] = ResolversParentTypes['Candidate']> = {
  part?: Resolver<Maybe<ResolversTypes['Part']>, ParentType, ContextType>;
  partId?: Resolver<Maybe<ResolversTypes['ID']>, ParentType, ContextType>;
  category?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  maker?: Resolver<Maybe<ResolversTypes['Maker']>, ParentType, ContextType>;
  probability?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
};

export type ComponentConnectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ComponentConnection'] = ResolversParentTypes['ComponentConnection']> = {
  edges?: Resolver<ReadonlyArray<ResolversTypes['ComponentEdge']>, ParentType, ContextType>;
  nodes?: Resolver<ReadonlyArray<ResolversTypes['Component']>, ParentType, ContextType>;
  pageInfo?: Resolver<ResolversTypes['PageInfo'], ParentType, ContextType>;
  totalCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type ComponentEdgeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ComponentEdge'] = ResolversParentTypes['ComponentEdge']> = {
  cursor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<ResolversTypes['Component'], ParentType, ContextType>;
};

export type IdentificationConnectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['IdentificationConnection'] = ResolversParentTypes['IdentificationConnection']> = {
  edges?: Resolver<ReadonlyArray<ResolversTypes['IdentificationEdge']>, ParentType, ContextType>;
  nodes?: Resolver<ReadonlyArray<ResolversTypes['Identification']>, ParentType, ContextType>;
  pageInfo?: Resolver<ResolversTypes['PageInfo'], ParentType, ContextType>;
  totalCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type IdentificationEdgeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['IdentificationEdge'] = ResolversParentTypes['IdentificationEdge']> = {
  cursor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<ResolversTypes['Identification'], ParentType, ContextType>;
};

export type DecisionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Decision'] = ResolversParentTypes['Decision']> = {
  id?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  device?: Resolver<Maybe<ResolversTypes['Device']>, ParentType, ContextType>;
  pattern?: Resolver<Maybe<ResolversTypes['Pattern']>, ParentType, ContextType>;
  name?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  idea?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  probability?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  shape?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  strength?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  method?: Resolver<ResolversTypes['ProbabilityMethod'], ParentType, ContextType>;
  likelihood?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  matchCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  matches?: Resolver<Maybe<ResolversTypes['PatternMatchConnection']>, ParentType, ContextType, Partial<DecisionMatchesArgs>>;
  reasons?: Resolver<ReadonlyArray<ResolversTypes['String']>, ParentType, ContextType>;
  against?: Resolver<ReadonlyArray<ResolversTypes['String']>, ParentType, ContextType>;
  standing?: Resolver<ResolversTypes['DecisionStanding'], ParentType, ContextType>;
  judgements?: Resolver<ReadonlyArray<ResolversTypes['DecisionJudgement']>, ParentType, ContextType>;
  supportedBy?: Resolver<Maybe<ReadonlyArray<ResolversTypes['Node']>>, ParentType, ContextType>;
  observations?: Resolver<Maybe<ReadonlyArray<ResolversTypes['Observation']>>, ParentType, ContextType>;
  check?: Resolver<Maybe<ResolversTypes['BoundCheck']>, ParentType, ContextType, RequireFields<DecisionCheckArgs, 'given'>>;
  __isTypeOf?: IsTypeOfResolverFn<ParentType, ContextType>;
};

export type DecisionJudgementResolvers<ContextType = Context, ParentType extends ResolversParentTypes['DecisionJudgement'] = ResolversParentTypes['DecisionJudgement']> = {
  verdict?: Resolver<ResolversTypes['DecisionVerdict'], ParentType, ContextType>;
  by?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  reason?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  on?: Resolver<ResolversTypes['DateTime'], ParentType, ContextType>;
};

export type JudgeDecisionPayloadResolvers<ContextType = Context, ParentType extends ResolversParentTypes['JudgeDecisionPayload'] = ResolversParentTypes['JudgeDecisionPayload']> = {
  decision?: Resolver<Maybe<ResolversTypes['Decision']>, ParentType, ContextType>;
  entry?: Resolver<ResolversTypes['JournalEntry'], ParentType, ContextType>;
};

export type DecisionConnectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['DecisionConnection'] = ResolversParentTypes['DecisionConnection']> = {
  edges?: Resolver<ReadonlyArray<ResolversTypes['DecisionEdge']>, ParentType, ContextType>;
  nodes?: Resolver<ReadonlyArray<ResolversTypes['Decision']>, ParentType, ContextType>;
  pageInfo?: Resolver<ResolversTypes['PageInfo'], ParentType, ContextType>;
  totalCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type DecisionEdgeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['DecisionEdge'] = ResolversParentTypes['DecisionEdge']> = {
  cursor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<ResolversTypes['Decision'], ParentType, ContextType>;
};

export type DesignCheckResolvers<ContextType = Context, ParentType extends ResolversParentTypes['DesignCheck'] = ResolversParentTypes['DesignCheck']> = {
  name?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  title?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  inputs?: Resolver<ReadonlyArray<ResolversTypes['DesignCheckInput']>, ParentType, ContextType>;
  outputs?: Resolver<ReadonlyArray<ResolversTypes['DesignCheckOutput']>, ParentType, ContextType>;
  formula?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  source?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  limits?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  cautions?: Resolver<ReadonlyArray<ResolversTypes['String']>, ParentType, ContextType>;
};

export type DesignCheckInputResolvers<ContextType = Context, ParentType extends ResolversParentTypes['DesignCheckInput'] = ResolversParentTypes['DesignCheckInput']> = {
  name?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  unit?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  meaning?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  isOptional?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
  min?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  max?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  beyond?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  above?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  isInteger?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
  typical?: Resolver<Maybe<ResolversTypes['TypicalRange']>, ParentType, ContextType>;
};

export type TypicalRangeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['TypicalRange'] = ResolversParentTypes['TypicalRange']> = {
  low?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  high?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  note?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
};

export type DesignCheckOutputResolvers<ContextType = Context, ParentType extends ResolversParentTypes['DesignCheckOutput'] = ResolversParentTypes['DesignCheckOutput']> = {
  name?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  unit?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  meaning?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
};

export type CheckResultResolvers<ContextType = Context, ParentType extends ResolversParentTypes['CheckResult'] = ResolversParentTypes['CheckResult']> = {
  values?: Resolver<ReadonlyArray<ResolversTypes['CheckedValue']>, ParentType, ContextType>;
  sentence?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  verdict?: Resolver<ResolversTypes['CheckVerdict'], ParentType, ContextType>;
  notes?: Resolver<ReadonlyArray<ResolversTypes['String']>, ParentType, ContextType>;
  missing?: Resolver<ReadonlyArray<ResolversTypes['DesignCheckInput']>, ParentType, ContextType>;
  check?: Resolver<ResolversTypes['DesignCheck'], ParentType, ContextType>;
};

export type CheckedValueResolvers<ContextType = Context, ParentType extends ResolversParentTypes['CheckedValue'] = ResolversParentTypes['CheckedValue']> = {
  name?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  value?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  low?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  high?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  unit?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  meaning?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
};

export type BoundCheckResolvers<ContextType = Context, ParentType extends ResolversParentTypes['BoundCheck'] = ResolversParentTypes['BoundCheck']> = {
  check?: Resolver<ResolversTypes['DesignCheck'], ParentType, ContextType>;
  inputs?: Resolver<ReadonlyArray<ResolversTypes['BoundInput']>, ParentType, ContextType>;
  probability?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  missing?: Resolver<ReadonlyArray<ResolversTypes['DesignCheckInput']>, ParentType, ContextType>;
  result?: Resolver<Maybe<ResolversTypes['CheckResult']>, ParentType, ContextType>;
  problem?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
};

export type BoundInputResolvers<ContextType = Context, ParentType extends ResolversParentTypes['BoundInput'] = ResolversParentTypes['BoundInput']> = {
  name?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  quantity?: Resolver<Maybe<ResolversTypes['Quantity']>, ParentType, ContextType>;
  origin?: Resolver<ResolversTypes['CheckInputOrigin'], ParentType, ContextType>;
  from?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  supportedBy?: Resolver<ReadonlyArray<ResolversTypes['ID']>, ParentType, ContextType>;
  probability?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
};

export type DeviceResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Device'] = ResolversParentTypes['Device']> = {
  id?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  name?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  maker?: Resolver<Maybe<ResolversTypes['Maker']>, ParentType, ContextType>;
  productLine?: Resolver<Maybe<ResolversTypes['ProductLine']>, ParentType, ContextType>;
  released?: Resolver<ResolversTypes['PartialDate'], ParentType, ContextType>;
  year?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  bodySite?: Resolver<ResolversTypes['BodySite'], ParentType, ContextType>;
  mass?: Resolver<Maybe<ResolversTypes['Quantity']>, ParentType, ContextType>;
  dimensions?: Resolver<Maybe<ResolversTypes['Dimensions']>, ParentType, ContextType>;
  price?: Resolver<Maybe<ResolversTypes['Money']>, ParentType, ContextType>;
  ingress?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  regulatoryIds?: Resolver<ReadonlyArray<ResolversTypes['RegulatoryId']>, ParentType, ContextType>;
  predecessors?: Resolver<ReadonlyArray<ResolversTypes['Device']>, ParentType, ContextType>;
  successors?: Resolver<ReadonlyArray<ResolversTypes['Device']>, ParentType, ContextType>;
  invented?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
  visibility?: Resolver<Maybe<ResolversTypes['Visibility']>, ParentType, ContextType>;
  embargoUntil?: Resolver<Maybe<ResolversTypes['DateTime']>, ParentType, ContextType>;
  recalled?: Resolver<Maybe<ResolversTypes['Recalled']>, ParentType, ContextType>;
  note?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  specimens?: Resolver<Maybe<ReadonlyArray<ResolversTypes['Specimen']>>, ParentType, ContextType>;
  specimen?: Resolver<Maybe<ResolversTypes['Specimen']>, ParentType, ContextType>;
  boards?: Resolver<ReadonlyArray<ResolversTypes['Board']>, ParentType, ContextType>;
  subsystems?: Resolver<ReadonlyArray<ResolversTypes['Subsystem']>, ParentType, ContextType>;
  components?: Resolver<Maybe<ResolversTypes['ComponentConnection']>, ParentType, ContextType, Partial<DeviceComponentsArgs>>;
  links?: Resolver<Maybe<ResolversTypes['PhysicalLinkConnection']>, ParentType, ContextType, Partial<DeviceLinksArgs>>;
  nets?: Resolver<Maybe<ResolversTypes['NetConnection']>, ParentType, ContextType, Partial<DeviceNetsArgs>>;
  observations?: Resolver<Maybe<ResolversTypes['ObservationConnection']>, ParentType, ContextType, Partial<DeviceObservationsArgs>>;
  identifications?: Resolver<Maybe<ResolversTypes['IdentificationConnection']>, ParentType, ContextType, Partial<DeviceIdentificationsArgs>>;
  kindCounts?: Resolver<Maybe<ReadonlyArray<ResolversTypes['KindCount']>>, ParentType, ContextType, RequireFields<DeviceKindCountsArgs, 'above'>>;
  subsystemCounts?: Resolver<ReadonlyArray<ResolversTypes['SubsystemCount']>, ParentType, ContextType>;
  decisions?: Resolver<Maybe<ResolversTypes['DecisionConnection']>, ParentType, ContextType, RequireFields<DeviceDecisionsArgs, 'minimumProbability' | 'includeRejected'>>;
  photoCollectionAddress?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  presence?: Resolver<Maybe<ResolversTypes['DevicePresence']>, ParentType, ContextType, RequireFields<DevicePresenceArgs, 'of'>>;
  __isTypeOf?: IsTypeOfResolverFn<ParentType, ContextType>;
};

export type RegulatoryIdResolvers<ContextType = Context, ParentType extends ResolversParentTypes['RegulatoryId'] = ResolversParentTypes['RegulatoryId']> = {
  scheme?: Resolver<ResolversTypes['RegulatoryScheme'], ParentType, ContextType>;
  code?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
};

export type KindCountResolvers<ContextType = Context, ParentType extends ResolversParentTypes['KindCount'] = ResolversParentTypes['KindCount']> = {
  kind?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  meaning?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  certain?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  expected?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  possible?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  verdict?: Resolver<ResolversTypes['PresenceVerdict'], ParentType, ContextType>;
};

export type SubsystemCountResolvers<ContextType = Context, ParentType extends ResolversParentTypes['SubsystemCount'] = ResolversParentTypes['SubsystemCount']> = {
  kind?: Resolver<Maybe<ResolversTypes['SubsystemKind']>, ParentType, ContextType>;
  components?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type DeviceConnectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['DeviceConnection'] = ResolversParentTypes['DeviceConnection']> = {
  edges?: Resolver<ReadonlyArray<ResolversTypes['DeviceEdge']>, ParentType, ContextType>;
  nodes?: Resolver<ReadonlyArray<ResolversTypes['Device']>, ParentType, ContextType>;
  pageInfo?: Resolver<ResolversTypes['PageInfo'], ParentType, ContextType>;
  totalCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type DeviceEdgeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['DeviceEdge'] = ResolversParentTypes['DeviceEdge']> = {
  cursor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<ResolversTypes['Device'], ParentType, ContextType>;
};

export type DrawingResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Drawing'] = ResolversParentTypes['Drawing']> = {
  title?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  description?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  svg?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
};

export type PlanViewResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PlanView'] = ResolversParentTypes['PlanView']> = {
  side?: Resolver<ResolversTypes['Side'], ParentType, ContextType>;
  width?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  height?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  origin?: Resolver<ResolversTypes['SheetSpot'], ParentType, ContextType>;
  axes?: Resolver<ResolversTypes['SheetSpot'], ParentType, ContextType>;
  shapes?: Resolver<ResolversTypes['Json'], ParentType, ContextType>;
  photo?: Resolver<Maybe<ResolversTypes['PlanPhoto']>, ParentType, ContextType>;
  hatches?: Resolver<ReadonlyArray<ResolversTypes['PlanHatch']>, ParentType, ContextType>;
};

export type PlanPhotoResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PlanPhoto'] = ResolversParentTypes['PlanPhoto']> = {
  id?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  address?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  note?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  at?: Resolver<ResolversTypes['SheetSpot'], ParentType, ContextType>;
  width?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  height?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
};

export type SheetSpotResolvers<ContextType = Context, ParentType extends ResolversParentTypes['SheetSpot'] = ResolversParentTypes['SheetSpot']> = {
  x?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  y?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
};

export type PlanHatchResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PlanHatch'] = ResolversParentTypes['PlanHatch']> = {
  number?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  subsystem?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  tile?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  turn?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  marks?: Resolver<ResolversTypes['HatchMark'], ParentType, ContextType>;
  pen?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
};

export type AuditedClaimResolvers<ContextType = Context, ParentType extends ResolversParentTypes['AuditedClaim'] = ResolversParentTypes['AuditedClaim']> = {
  claim?: Resolver<ResolversTypes['Claim'], ParentType, ContextType>;
  likelihoodWords?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  low?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  high?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  rangeBy?: Resolver<ResolversTypes['WordingRange'], ParentType, ContextType>;
  support?: Resolver<ResolversTypes['ClaimSupport'], ParentType, ContextType>;
  probability?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  proposal?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  statements?: Resolver<ReadonlyArray<ResolversTypes['Statement']>, ParentType, ContextType>;
  notChecked?: Resolver<ReadonlyArray<ResolversTypes['String']>, ParentType, ContextType>;
  findings?: Resolver<ReadonlyArray<ResolversTypes['ClaimFinding']>, ParentType, ContextType>;
};

export type StatementResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Statement'] = ResolversParentTypes['Statement']> = {
  kind?: Resolver<ResolversTypes['StatementKind'], ParentType, ContextType>;
  text?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  result?: Resolver<ResolversTypes['StatementResult'], ParentType, ContextType>;
  message?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
};

export type ClaimSupportResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ClaimSupport'] = ResolversParentTypes['ClaimSupport']> = {
  items?: Resolver<ReadonlyArray<ResolversTypes['SupportItem']>, ParentType, ContextType>;
  probability?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  low?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  high?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
};

export type SupportItemResolvers<ContextType = Context, ParentType extends ResolversParentTypes['SupportItem'] = ResolversParentTypes['SupportItem']> = {
  id?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  kind?: Resolver<ResolversTypes['SupportKind'], ParentType, ContextType>;
  description?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  probability?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  trouble?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  isFound?: Resolver<Maybe<ResolversTypes['Boolean']>, ParentType, ContextType>;
};

export type ClaimFindingResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ClaimFinding'] = ResolversParentTypes['ClaimFinding']> = {
  kind?: Resolver<ResolversTypes['ClaimFindingKind'], ParentType, ContextType>;
  message?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
};

export type NamedThingResolvers<ContextType = Context, ParentType extends ResolversParentTypes['NamedThing'] = ResolversParentTypes['NamedThing']> = {
  id?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  kind?: Resolver<ResolversTypes['ThingKind'], ParentType, ContextType>;
  description?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
};

export type ImpactResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Impact'] = ResolversParentTypes['Impact']> = {
  of?: Resolver<ResolversTypes['NamedThing'], ParentType, ContextType>;
  impacted?: Resolver<Maybe<ResolversTypes['ImpactedThingConnection']>, ParentType, ContextType, Partial<ImpactImpactedArgs>>;
};

export type ImpactedThingResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ImpactedThing'] = ResolversParentTypes['ImpactedThing']> = {
  id?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  kind?: Resolver<ResolversTypes['ThingKind'], ParentType, ContextType>;
  description?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  generation?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  path?: Resolver<ReadonlyArray<ResolversTypes['ID']>, ParentType, ContextType>;
  how?: Resolver<ReadonlyArray<ResolversTypes['String']>, ParentType, ContextType>;
};

export type DifferenceResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Difference'] = ResolversParentTypes['Difference']> = {
  devices?: Resolver<Maybe<ResolversTypes['DeviceConnection']>, ParentType, ContextType, Partial<DifferenceDevicesArgs>>;
  gained?: Resolver<Maybe<ResolversTypes['DecisionDifferenceConnection']>, ParentType, ContextType, Partial<DifferenceGainedArgs>>;
  lost?: Resolver<Maybe<ResolversTypes['DecisionDifferenceConnection']>, ParentType, ContextType, Partial<DifferenceLostArgs>>;
  moved?: Resolver<Maybe<ResolversTypes['DecisionDifferenceConnection']>, ParentType, ContextType, Partial<DifferenceMovedArgs>>;
  cells?: Resolver<Maybe<ResolversTypes['CellDifferenceConnection']>, ParentType, ContextType, Partial<DifferenceCellsArgs>>;
  trendPoints?: Resolver<Maybe<ResolversTypes['TrendPointDifferenceConnection']>, ParentType, ContextType, Partial<DifferenceTrendPointsArgs>>;
  claims?: Resolver<Maybe<ResolversTypes['ClaimDifferenceConnection']>, ParentType, ContextType, Partial<DifferenceClaimsArgs>>;
};

export type DecisionDifferenceResolvers<ContextType = Context, ParentType extends ResolversParentTypes['DecisionDifference'] = ResolversParentTypes['DecisionDifference']> = {
  id?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  name?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  before?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  after?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  standingBefore?: Resolver<Maybe<ResolversTypes['DecisionStanding']>, ParentType, ContextType>;
  standingAfter?: Resolver<Maybe<ResolversTypes['DecisionStanding']>, ParentType, ContextType>;
};

export type CellDifferenceResolvers<ContextType = Context, ParentType extends ResolversParentTypes['CellDifference'] = ResolversParentTypes['CellDifference']> = {
  specimen?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  row?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  label?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  unit?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  before?: Resolver<Maybe<ResolversTypes['CellFigures']>, ParentType, ContextType>;
  after?: Resolver<Maybe<ResolversTypes['CellFigures']>, ParentType, ContextType>;
};

export type CellFiguresResolvers<ContextType = Context, ParentType extends ResolversParentTypes['CellFigures'] = ResolversParentTypes['CellFigures']> = {
  certain?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  expected?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  possible?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
};

export type TrendPointDifferenceResolvers<ContextType = Context, ParentType extends ResolversParentTypes['TrendPointDifference'] = ResolversParentTypes['TrendPointDifference']> = {
  subject?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  year?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  device?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  before?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  after?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
};

export type ClaimDifferenceResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ClaimDifference'] = ResolversParentTypes['ClaimDifference']> = {
  id?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  publication?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  publicationTitle?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  sentence?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  before?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  after?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  newFindings?: Resolver<ReadonlyArray<ResolversTypes['ClaimFinding']>, ParentType, ContextType>;
  settledFindings?: Resolver<ReadonlyArray<ResolversTypes['ClaimFinding']>, ParentType, ContextType>;
  movedFindings?: Resolver<ReadonlyArray<ResolversTypes['ClaimFinding']>, ParentType, ContextType>;
  proposal?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
};

export type CorrectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Correction'] = ResolversParentTypes['Correction']> = {
  id?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  summary?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  by?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  reason?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  on?: Resolver<ResolversTypes['DateTime'], ParentType, ContextType>;
  publications?: Resolver<ReadonlyArray<ResolversTypes['CorrectedPublication']>, ParentType, ContextType>;
  visibility?: Resolver<Maybe<ResolversTypes['Visibility']>, ParentType, ContextType>;
  embargoUntil?: Resolver<Maybe<ResolversTypes['DateTime']>, ParentType, ContextType>;
  recalled?: Resolver<Maybe<ResolversTypes['Recalled']>, ParentType, ContextType>;
};

export type CorrectedPublicationResolvers<ContextType = Context, ParentType extends ResolversParentTypes['CorrectedPublication'] = ResolversParentTypes['CorrectedPublication']> = {
  publication?: Resolver<ResolversTypes['Publication'], ParentType, ContextType>;
  notice?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  claims?: Resolver<ReadonlyArray<ResolversTypes['CorrectedClaim']>, ParentType, ContextType>;
};

export type CorrectedClaimResolvers<ContextType = Context, ParentType extends ResolversParentTypes['CorrectedClaim'] = ResolversParentTypes['CorrectedClaim']> = {
  id?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  sentence?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  before?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  after?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  findings?: Resolver<ReadonlyArray<ResolversTypes['String']>, ParentType, ContextType>;
};

export type CorrectPayloadResolvers<ContextType = Context, ParentType extends ResolversParentTypes['CorrectPayload'] = ResolversParentTypes['CorrectPayload']> = {
  correction?: Resolver<ResolversTypes['Correction'], ParentType, ContextType>;
  difference?: Resolver<ResolversTypes['Difference'], ParentType, ContextType>;
  entry?: Resolver<ResolversTypes['JournalEntry'], ParentType, ContextType>;
};

export type ClaimPhotoResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ClaimPhoto'] = ResolversParentTypes['ClaimPhoto']> = {
  photo?: Resolver<Maybe<ResolversTypes['Photo']>, ParentType, ContextType>;
  of?: Resolver<Maybe<ResolversTypes['Node']>, ParentType, ContextType>;
  fragment?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  address?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
};

export type AuditedClaimConnectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['AuditedClaimConnection'] = ResolversParentTypes['AuditedClaimConnection']> = {
  edges?: Resolver<ReadonlyArray<ResolversTypes['AuditedClaimEdge']>, ParentType, ContextType>;
  nodes?: Resolver<ReadonlyArray<ResolversTypes['AuditedClaim']>, ParentType, ContextType>;
  pageInfo?: Resolver<ResolversTypes['PageInfo'], ParentType, ContextType>;
  totalCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type AuditedClaimEdgeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['AuditedClaimEdge'] = ResolversParentTypes['AuditedClaimEdge']> = {
  cursor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<ResolversTypes['AuditedClaim'], ParentType, ContextType>;
};

export type CorrectionConnectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['CorrectionConnection'] = ResolversParentTypes['CorrectionConnection']> = {
  edges?: Resolver<ReadonlyArray<ResolversTypes['CorrectionEdge']>, ParentType, ContextType>;
  nodes?: Resolver<ReadonlyArray<ResolversTypes['Correction']>, ParentType, ContextType>;
  pageInfo?: Resolver<ResolversTypes['PageInfo'], ParentType, ContextType>;
  totalCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type CorrectionEdgeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['CorrectionEdge'] = ResolversParentTypes['CorrectionEdge']> = {
  cursor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<ResolversTypes['Correction'], ParentType, ContextType>;
};

export type ImpactedThingConnectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ImpactedThingConnection'] = ResolversParentTypes['ImpactedThingConnection']> = {
  edges?: Resolver<ReadonlyArray<ResolversTypes['ImpactedThingEdge']>, ParentType, ContextType>;
  nodes?: Resolver<ReadonlyArray<ResolversTypes['ImpactedThing']>, ParentType, ContextType>;
  pageInfo?: Resolver<ResolversTypes['PageInfo'], ParentType, ContextType>;
  totalCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type ImpactedThingEdgeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ImpactedThingEdge'] = ResolversParentTypes['ImpactedThingEdge']> = {
  cursor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<ResolversTypes['ImpactedThing'], ParentType, ContextType>;
};

export type DecisionDifferenceConnectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['DecisionDifferenceConnection'] = ResolversParentTypes['DecisionDifferenceConnection']> = {
  edges?: Resolver<ReadonlyArray<ResolversTypes['DecisionDifferenceEdge']>, ParentType, ContextType>;
  nodes?: Resolver<ReadonlyArray<ResolversTypes['DecisionDifference']>, ParentType, ContextType>;
  pageInfo?: Resolver<ResolversTypes['PageInfo'], ParentType, ContextType>;
  totalCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type DecisionDifferenceEdgeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['DecisionDifferenceEdge'] = ResolversParentTypes['DecisionDifferenceEdge']> = {
  cursor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<ResolversTypes['DecisionDifference'], ParentType, ContextType>;
};

export type CellDifferenceConnectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['CellDifferenceConnection'] = ResolversParentTypes['CellDifferenceConnection']> = {
  edges?: Resolver<ReadonlyArray<ResolversTypes['CellDifferenceEdge']>, ParentType, ContextType>;
  nodes?: Resolver<ReadonlyArray<ResolversTypes['CellDifference']>, ParentType, ContextType>;
  pageInfo?: Resolver<ResolversTypes['PageInfo'], ParentType, ContextType>;
  totalCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type CellDifferenceEdgeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['CellDifferenceEdge'] = ResolversParentTypes['CellDifferenceEdge']> = {
  cursor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<ResolversTypes['CellDifference'], ParentType, ContextType>;
};

export type TrendPointDifferenceConnectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['TrendPointDifferenceConnection'] = ResolversParentTypes['TrendPointDifferenceConnection']> = {
  edges?: Resolver<ReadonlyArray<ResolversTypes['TrendPointDifferenceEdge']>, ParentType, ContextType>;
  nodes?: Resolver<ReadonlyArray<ResolversTypes['TrendPointDifference']>, ParentType, ContextType>;
  pageInfo?: Resolver<ResolversTypes['PageInfo'], ParentType, ContextType>;
  totalCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type TrendPointDifferenceEdgeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['TrendPointDifferenceEdge'] = ResolversParentTypes['TrendPointDifferenceEdge']> = {
  cursor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<ResolversTypes['TrendPointDifference'], ParentType, ContextType>;
};

export type ClaimDifferenceConnectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ClaimDifferenceConnection'] = ResolversParentTypes['ClaimDifferenceConnection']> = {
  edges?: Resolver<ReadonlyArray<ResolversTypes['ClaimDifferenceEdge']>, ParentType, ContextType>;
  nodes?: Resolver<ReadonlyArray<ResolversTypes['ClaimDifference']>, ParentType, ContextType>;
  pageInfo?: Resolver<ResolversTypes['PageInfo'], ParentType, ContextType>;
  totalCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type ClaimDifferenceEdgeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ClaimDifferenceEdge'] = ResolversParentTypes['ClaimDifferenceEdge']> = {
  cursor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<ResolversTypes['ClaimDifference'], ParentType, ContextType>;
};

export type ExportResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Export'] = ResolversParentTypes['Export']> = {
  kind?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  about?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  zip?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  files?: Resolver<ReadonlyArray<ResolversTypes['ExportFile']>, ParentType, ContextType>;
};

export type ExportFileResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ExportFile'] = ResolversParentTypes['ExportFile']> = {
  name?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  mediaType?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  address?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  rows?: Resolver<Maybe<ResolversTypes['Int']>, ParentType, ContextType>;
  lossCount?: Resolver<Maybe<ResolversTypes['Int']>, ParentType, ContextType>;
  losses?: Resolver<Maybe<ReadonlyArray<ResolversTypes['ExportLoss']>>, ParentType, ContextType>;
  text?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
};

export type ExportLossResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ExportLoss'] = ResolversParentTypes['ExportLoss']> = {
  record?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  field?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  why?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
};

export interface JsonScalarConfig extends GraphQLScalarTypeConfig<ResolversTypes['Json'], any> {
  name: 'Json';
}

export type FeedResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Feed'] = ResolversParentTypes['Feed']> = {
  id?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  title?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  question?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  documentId?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  variables?: Resolver<ResolversTypes['Json'], ParentType, ContextType>;
  rows?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  maxAge?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  origins?: Resolver<ReadonlyArray<ResolversTypes['String']>, ParentType, ContextType>;
  note?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  visibility?: Resolver<Maybe<ResolversTypes['Visibility']>, ParentType, ContextType>;
  embargoUntil?: Resolver<Maybe<ResolversTypes['DateTime']>, ParentType, ContextType>;
  __isTypeOf?: IsTypeOfResolverFn<ParentType, ContextType>;
};

export type FeedConnectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['FeedConnection'] = ResolversParentTypes['FeedConnection']> = {
  edges?: Resolver<ReadonlyArray<ResolversTypes['FeedEdge']>, ParentType, ContextType>;
  nodes?: Resolver<ReadonlyArray<ResolversTypes['Feed']>, ParentType, ContextType>;
  pageInfo?: Resolver<ResolversTypes['PageInfo'], ParentType, ContextType>;
  totalCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type FeedEdgeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['FeedEdge'] = ResolversParentTypes['FeedEdge']> = {
  cursor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<ResolversTypes['Feed'], ParentType, ContextType>;
};

export type SubscriptionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Subscription'] = ResolversParentTypes['Subscription']> = {
  feedChanged?: SubscriptionResolver<Maybe<ResolversTypes['FeedChange']>, "feedChanged", ParentType, ContextType, RequireFields<SubscriptionFeedChangedArgs, 'id'>>;
};

export type FeedChangeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['FeedChange'] = ResolversParentTypes['FeedChange']> = {
  feed?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  digest?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  since?: Resolver<ResolversTypes['DateTime'], ParentType, ContextType>;
};

export type SaveFeedPayloadResolvers<ContextType = Context, ParentType extends ResolversParentTypes['SaveFeedPayload'] = ResolversParentTypes['SaveFeedPayload']> = {
  feed?: Resolver<Maybe<ResolversTypes['Feed']>, ParentType, ContextType>;
  entry?: Resolver<Maybe<ResolversTypes['JournalEntry']>, ParentType, ContextType>;
};

export type GenerationsResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Generations'] = ResolversParentTypes['Generations']> = {
  productLine?: Resolver<ResolversTypes['ProductLine'], ParentType, ContextType>;
  generations?: Resolver<ReadonlyArray<ResolversTypes['Generation']>, ParentType, ContextType>;
  comparison?: Resolver<ResolversTypes['Comparison'], ParentType, ContextType>;
  steps?: Resolver<Maybe<ReadonlyArray<ResolversTypes['GenerationStep']>>, ParentType, ContextType>;
  parts?: Resolver<Maybe<ReadonlyArray<ResolversTypes['PartSighting']>>, ParentType, ContextType>;
  makers?: Resolver<Maybe<ReadonlyArray<ResolversTypes['MakerSighting']>>, ParentType, ContextType>;
  chart?: Resolver<Maybe<ResolversTypes['Chart']>, ParentType, ContextType, RequireFields<GenerationsChartArgs, 'of' | 'sections' | 'size'>>;
};

export type GenerationResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Generation'] = ResolversParentTypes['Generation']> = {
  device?: Resolver<ResolversTypes['Device'], ParentType, ContextType>;
  number?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  predecessors?: Resolver<ReadonlyArray<ResolversTypes['Device']>, ParentType, ContextType>;
  successors?: Resolver<ReadonlyArray<ResolversTypes['Device']>, ParentType, ContextType>;
  keptParts?: Resolver<Maybe<ReadonlyArray<ResolversTypes['KeptPart']>>, ParentType, ContextType>;
  integration?: Resolver<Maybe<ResolversTypes['Integration']>, ParentType, ContextType>;
  revisions?: Resolver<Maybe<ReadonlyArray<ResolversTypes['HardwareRevision']>>, ParentType, ContextType>;
};

export type GenerationStepResolvers<ContextType = Context, ParentType extends ResolversParentTypes['GenerationStep'] = ResolversParentTypes['GenerationStep']> = {
  from?: Resolver<ResolversTypes['Device'], ParentType, ContextType>;
  to?: Resolver<ResolversTypes['Device'], ParentType, ContextType>;
  alignment?: Resolver<Maybe<ResolversTypes['Alignment']>, ParentType, ContextType, Partial<GenerationStepAlignmentArgs>>;
  decisions?: Resolver<Maybe<ReadonlyArray<ResolversTypes['DecisionAdoption']>>, ParentType, ContextType>;
};

export type DecisionAdoptionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['DecisionAdoption'] = ResolversParentTypes['DecisionAdoption']> = {
  pattern?: Resolver<Maybe<ResolversTypes['Pattern']>, ParentType, ContextType>;
  adopted?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
  before?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  after?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  probability?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  isCertain?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
};

export type PartSightingResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PartSighting'] = ResolversParentTypes['PartSighting']> = {
  part?: Resolver<Maybe<ResolversTypes['Part']>, ParentType, ContextType>;
  first?: Resolver<ResolversTypes['Device'], ParentType, ContextType>;
  last?: Resolver<ResolversTypes['Device'], ParentType, ContextType>;
  firstProbability?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  lastProbability?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  maybeSince?: Resolver<Maybe<ResolversTypes['Device']>, ParentType, ContextType>;
  maybeUntil?: Resolver<Maybe<ResolversTypes['Device']>, ParentType, ContextType>;
  certain?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  expected?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  possible?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  isCurrent?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
};

export type MakerSightingResolvers<ContextType = Context, ParentType extends ResolversParentTypes['MakerSighting'] = ResolversParentTypes['MakerSighting']> = {
  maker?: Resolver<Maybe<ResolversTypes['Maker']>, ParentType, ContextType>;
  first?: Resolver<ResolversTypes['Device'], ParentType, ContextType>;
  last?: Resolver<ResolversTypes['Device'], ParentType, ContextType>;
  firstProbability?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  lastProbability?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  maybeSince?: Resolver<Maybe<ResolversTypes['Device']>, ParentType, ContextType>;
  maybeUntil?: Resolver<Maybe<ResolversTypes['Device']>, ParentType, ContextType>;
  certain?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  expected?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  possible?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  isCurrent?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
};

export type KeptPartResolvers<ContextType = Context, ParentType extends ResolversParentTypes['KeptPart'] = ResolversParentTypes['KeptPart']> = {
  part?: Resolver<Maybe<ResolversTypes['Part']>, ParentType, ContextType>;
  probability?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  since?: Resolver<ResolversTypes['Device'], ParentType, ContextType>;
};

export type IntegrationResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Integration'] = ResolversParentTypes['Integration']> = {
  certainChips?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  expectedChips?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  certainFunctions?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  expectedFunctions?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  certainFunctionsAChip?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  expectedFunctionsAChip?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  unnamed?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type HardwareRevisionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['HardwareRevision'] = ResolversParentTypes['HardwareRevision']> = {
  from?: Resolver<ResolversTypes['Specimen'], ParentType, ContextType>;
  to?: Resolver<ResolversTypes['Specimen'], ParentType, ContextType>;
  isChanged?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
  alignment?: Resolver<ResolversTypes['Alignment'], ParentType, ContextType>;
};

export type HistoryEntryResolvers<ContextType = Context, ParentType extends ResolversParentTypes['HistoryEntry'] = ResolversParentTypes['HistoryEntry']> = {
  sequence?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  id?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  instant?: Resolver<ResolversTypes['DateTime'], ParentType, ContextType>;
  countsFrom?: Resolver<ResolversTypes['DateTime'], ParentType, ContextType>;
  actor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  reason?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  kind?: Resolver<ResolversTypes['EntryKind'], ParentType, ContextType>;
  subject?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  hash?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
};

export type ArchiveDifferenceResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ArchiveDifference'] = ResolversParentTypes['ArchiveDifference']> = {
  records?: Resolver<Maybe<ResolversTypes['RecordDifferenceConnection']>, ParentType, ContextType, Partial<ArchiveDifferenceRecordsArgs>>;
  conclusions?: Resolver<Maybe<ResolversTypes['Difference']>, ParentType, ContextType>;
};

export type RecordDifferenceResolvers<ContextType = Context, ParentType extends ResolversParentTypes['RecordDifference'] = ResolversParentTypes['RecordDifference']> = {
  id?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  kind?: Resolver<ResolversTypes['ThingKind'], ParentType, ContextType>;
  change?: Resolver<ResolversTypes['RecordDifferenceKind'], ParentType, ContextType>;
  fields?: Resolver<ReadonlyArray<ResolversTypes['FieldDifference']>, ParentType, ContextType>;
  omittedFields?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type FieldDifferenceResolvers<ContextType = Context, ParentType extends ResolversParentTypes['FieldDifference'] = ResolversParentTypes['FieldDifference']> = {
  path?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  before?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  after?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
};

export type CorrectClockPayloadResolvers<ContextType = Context, ParentType extends ResolversParentTypes['CorrectClockPayload'] = ResolversParentTypes['CorrectClockPayload']> = {
  entry?: Resolver<ResolversTypes['JournalEntry'], ParentType, ContextType>;
};

export type HistoryEntryConnectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['HistoryEntryConnection'] = ResolversParentTypes['HistoryEntryConnection']> = {
  edges?: Resolver<ReadonlyArray<ResolversTypes['HistoryEntryEdge']>, ParentType, ContextType>;
  nodes?: Resolver<ReadonlyArray<ResolversTypes['HistoryEntry']>, ParentType, ContextType>;
  pageInfo?: Resolver<ResolversTypes['PageInfo'], ParentType, ContextType>;
  totalCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type HistoryEntryEdgeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['HistoryEntryEdge'] = ResolversParentTypes['HistoryEntryEdge']> = {
  cursor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<ResolversTypes['HistoryEntry'], ParentType, ContextType>;
};

export type RecordDifferenceConnectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['RecordDifferenceConnection'] = ResolversParentTypes['RecordDifferenceConnection']> = {
  edges?: Resolver<ReadonlyArray<ResolversTypes['RecordDifferenceEdge']>, ParentType, ContextType>;
  nodes?: Resolver<ReadonlyArray<ResolversTypes['RecordDifference']>, ParentType, ContextType>;
  pageInfo?: Resolver<ResolversTypes['PageInfo'], ParentType, ContextType>;
  totalCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type RecordDifferenceEdgeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['RecordDifferenceEdge'] = ResolversParentTypes['RecordDifferenceEdge']> = {
  cursor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<ResolversTypes['RecordDifference'], ParentType, ContextType>;
};

export type CandidatesResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Candidates'] = ResolversParentTypes['Candidates']> = {
  component?: Resolver<ResolversTypes['Component'], ParentType, ContextType>;
  state?: Resolver<ResolversTypes['CandidateState'], ParentType, ContextType>;
  parts?: Resolver<Maybe<ReadonlyArray<ResolversTypes['PossiblePart']>>, ParentType, ContextType, RequireFields<CandidatesPartsArgs, 'first'>>;
  none?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  categories?: Resolver<ReadonlyArray<ResolversTypes['PossibleCategory']>, ParentType, ContextType>;
  makers?: Resolver<ReadonlyArray<ResolversTypes['PossibleMaker']>, ParentType, ContextType>;
  kinds?: Resolver<ReadonlyArray<ResolversTypes['PossibleKind']>, ParentType, ContextType>;
  disagreement?: Resolver<Maybe<ResolversTypes['Disagreement']>, ParentType, ContextType>;
  set?: Resolver<Maybe<ResolversTypes['CandidateSet']>, ParentType, ContextType, RequireFields<CandidatesSetArgs, 'coverage'>>;
  classes?: Resolver<ReadonlyArray<ResolversTypes['PossibleClass']>, ParentType, ContextType>;
  roles?: Resolver<ReadonlyArray<ResolversTypes['PossibleRole']>, ParentType, ContextType>;
  sentence?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  whatWouldSettleIt?: Resolver<ReadonlyArray<ResolversTypes['ClassObservation']>, ParentType, ContextType>;
};

export type DisagreementResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Disagreement'] = ResolversParentTypes['Disagreement']> = {
  component?: Resolver<ResolversTypes['Component'], ParentType, ContextType>;
  recorded?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  recordedProbability?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  probability?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  instead?: Resolver<Maybe<ResolversTypes['Part']>, ParentType, ContextType>;
  insteadProbability?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  against?: Resolver<ReadonlyArray<ResolversTypes['Evidence']>, ParentType, ContextType>;
};

export type DisagreementConnectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['DisagreementConnection'] = ResolversParentTypes['DisagreementConnection']> = {
  edges?: Resolver<ReadonlyArray<ResolversTypes['DisagreementEdge']>, ParentType, ContextType>;
  nodes?: Resolver<ReadonlyArray<ResolversTypes['Disagreement']>, ParentType, ContextType>;
  pageInfo?: Resolver<ResolversTypes['PageInfo'], ParentType, ContextType>;
  totalCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type DisagreementEdgeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['DisagreementEdge'] = ResolversParentTypes['DisagreementEdge']> = {
  cursor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<ResolversTypes['Disagreement'], ParentType, ContextType>;
};

export type PossibleClassResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PossibleClass'] = ResolversParentTypes['PossibleClass']> = {
  name?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  probability?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  kinds?: Resolver<ReadonlyArray<ResolversTypes['PossibleKind']>, ParentType, ContextType>;
};

export type PossibleRoleResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PossibleRole'] = ResolversParentTypes['PossibleRole']> = {
  does?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  to?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  component?: Resolver<Maybe<ResolversTypes['Component']>, ParentType, ContextType>;
  probability?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  classes?: Resolver<ReadonlyArray<ResolversTypes['String']>, ParentType, ContextType>;
};

export type ClassObservationResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ClassObservation'] = ResolversParentTypes['ClassObservation']> = {
  action?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  tells?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  bits?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  minutes?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  bitsPerMinute?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  isDestructive?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
  cautions?: Resolver<ReadonlyArray<ResolversTypes['String']>, ParentType, ContextType>;
};

export type CandidateSetResolvers<ContextType = Context, ParentType extends ResolversParentTypes['CandidateSet'] = ResolversParentTypes['CandidateSet']> = {
  coverage?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  parts?: Resolver<Maybe<ReadonlyArray<ResolversTypes['Part']>>, ParentType, ContextType, RequireFields<CandidateSetPartsArgs, 'first'>>;
  hasNone?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
  size?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  devices?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  among?: Resolver<ResolversTypes['CoverageAmong'], ParentType, ContextType>;
  void?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
};

export type PossibleKindResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PossibleKind'] = ResolversParentTypes['PossibleKind']> = {
  term?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  probability?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  prior?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  evidence?: Resolver<ReadonlyArray<ResolversTypes['Evidence']>, ParentType, ContextType>;
};

export type PossiblePartResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PossiblePart'] = ResolversParentTypes['PossiblePart']> = {
  part?: Resolver<ResolversTypes['Part'], ParentType, ContextType>;
  probability?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  priorDecibans?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  evidence?: Resolver<ReadonlyArray<ResolversTypes['Evidence']>, ParentType, ContextType>;
};

export type EvidenceResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Evidence'] = ResolversParentTypes['Evidence']> = {
  kind?: Resolver<ResolversTypes['EvidenceKind'], ParentType, ContextType>;
  description?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  decibans?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
};

export type PossibleCategoryResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PossibleCategory'] = ResolversParentTypes['PossibleCategory']> = {
  term?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  probability?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
};

export type PossibleMakerResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PossibleMaker'] = ResolversParentTypes['PossibleMaker']> = {
  maker?: Resolver<ResolversTypes['Maker'], ParentType, ContextType>;
  probability?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
};

export type NextObservationResolvers<ContextType = Context, ParentType extends ResolversParentTypes['NextObservation'] = ResolversParentTypes['NextObservation']> = {
  component?: Resolver<ResolversTypes['Component'], ParentType, ContextType>;
  action?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  pin?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  kind?: Resolver<ResolversTypes['ObservationKind'], ParentType, ContextType>;
  bits?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  minutes?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  bitsPerMinute?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  isDestructive?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
  cautions?: Resolver<ReadonlyArray<ResolversTypes['String']>, ParentType, ContextType>;
};

export type MarkingReadingResolvers<ContextType = Context, ParentType extends ResolversParentTypes['MarkingReading'] = ResolversParentTypes['MarkingReading']> = {
  text?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  logos?: Resolver<ReadonlyArray<ResolversTypes['String']>, ParentType, ContextType>;
  lines?: Resolver<ReadonlyArray<ResolversTypes['MarkingLine']>, ParentType, ContextType>;
  matches?: Resolver<Maybe<ReadonlyArray<ResolversTypes['MarkingMatch']>>, ParentType, ContextType>;
  numbered?: Resolver<Maybe<ReadonlyArray<ResolversTypes['Part']>>, ParentType, ContextType>;
};

export type PhotoReadingResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PhotoReading'] = ResolversParentTypes['PhotoReading']> = {
  photo?: Resolver<ResolversTypes['Photo'], ParentType, ContextType>;
  region?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  turned?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  component?: Resolver<Maybe<ResolversTypes['Component']>, ParentType, ContextType>;
  lines?: Resolver<ReadonlyArray<ResolversTypes['PhotoLine']>, ParentType, ContextType>;
  suggestion?: Resolver<Maybe<ResolversTypes['MarkingSuggestion']>, ParentType, ContextType>;
  ifConfirmed?: Resolver<Maybe<ResolversTypes['CandidatesIfConfirmed']>, ParentType, ContextType>;
  others?: Resolver<ReadonlyArray<ResolversTypes['OtherPhotoReading']>, ParentType, ContextType>;
};

export type PhotoLineResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PhotoLine'] = ResolversParentTypes['PhotoLine']> = {
  characters?: Resolver<ReadonlyArray<ResolversTypes['PhotoCharacter']>, ParentType, ContextType>;
};

export type PhotoCharacterResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PhotoCharacter'] = ResolversParentTypes['PhotoCharacter']> = {
  text?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  confidence?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  alternatives?: Resolver<ReadonlyArray<ResolversTypes['CharacterAlternative']>, ParentType, ContextType>;
  nothing?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
};

export type CharacterAlternativeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['CharacterAlternative'] = ResolversParentTypes['CharacterAlternative']> = {
  text?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  probability?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
};

export type OtherPhotoReadingResolvers<ContextType = Context, ParentType extends ResolversParentTypes['OtherPhotoReading'] = ResolversParentTypes['OtherPhotoReading']> = {
  photo?: Resolver<ResolversTypes['Photo'], ParentType, ContextType>;
  marking?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
};

export type CandidatesIfConfirmedResolvers<ContextType = Context, ParentType extends ResolversParentTypes['CandidatesIfConfirmed'] = ResolversParentTypes['CandidatesIfConfirmed']> = {
  parts?: Resolver<Maybe<ReadonlyArray<ResolversTypes['PartIfConfirmed']>>, ParentType, ContextType, RequireFields<CandidatesIfConfirmedPartsArgs, 'first'>>;
  none?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  recordedNone?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
};

export type PartIfConfirmedResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PartIfConfirmed'] = ResolversParentTypes['PartIfConfirmed']> = {
  part?: Resolver<ResolversTypes['Part'], ParentType, ContextType>;
  probability?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  recordedProbability?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  bits?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
};

export type MarkingLineResolvers<ContextType = Context, ParentType extends ResolversParentTypes['MarkingLine'] = ResolversParentTypes['MarkingLine']> = {
  text?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  doubtful?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  unread?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  readings?: Resolver<ReadonlyArray<ResolversTypes['CodeReading']>, ParentType, ContextType>;
};

export type CodeReadingResolvers<ContextType = Context, ParentType extends ResolversParentTypes['CodeReading'] = ResolversParentTypes['CodeReading']> = {
  as?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  rule?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  source?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  description?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  doubt?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
};

export type MarkingMatchResolvers<ContextType = Context, ParentType extends ResolversParentTypes['MarkingMatch'] = ResolversParentTypes['MarkingMatch']> = {
  part?: Resolver<ResolversTypes['Part'], ParentType, ContextType>;
  marking?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  decibans?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
};

export type CalibrationResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Calibration'] = ResolversParentTypes['Calibration']> = {
  components?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  settled?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  brier?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  logLoss?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  first?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  firstThree?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  reliability?: Resolver<ReadonlyArray<ResolversTypes['ReliabilityBin']>, ParentType, ContextType>;
  nearlyCertain?: Resolver<ReadonlyArray<ResolversTypes['ReliabilityBin']>, ParentType, ContextType>;
  devices?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  withoutParts?: Resolver<ResolversTypes['HeldOutCalibration'], ParentType, ContextType>;
};

export type HeldOutCalibrationResolvers<ContextType = Context, ParentType extends ResolversParentTypes['HeldOutCalibration'] = ResolversParentTypes['HeldOutCalibration']> = {
  components?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  devices?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  absent?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  parts?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  brier?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  logLoss?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  first?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  firstThree?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  reliability?: Resolver<ReadonlyArray<ResolversTypes['ReliabilityBin']>, ParentType, ContextType>;
  nearlyCertain?: Resolver<ReadonlyArray<ResolversTypes['ReliabilityBin']>, ParentType, ContextType>;
};

export type ReliabilityBinResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ReliabilityBin'] = ResolversParentTypes['ReliabilityBin']> = {
  from?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  to?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  count?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  stated?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  observed?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  low?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  high?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  isCalibrated?: Resolver<Maybe<ResolversTypes['Boolean']>, ParentType, ContextType>;
};

export type JudgeIdentificationPayloadResolvers<ContextType = Context, ParentType extends ResolversParentTypes['JudgeIdentificationPayload'] = ResolversParentTypes['JudgeIdentificationPayload']> = {
  component?: Resolver<Maybe<ResolversTypes['Component']>, ParentType, ContextType>;
  entry?: Resolver<ResolversTypes['JournalEntry'], ParentType, ContextType>;
  cautions?: Resolver<ReadonlyArray<ResolversTypes['ChangeCaution']>, ParentType, ContextType>;
};

export type WithdrawObservationPayloadResolvers<ContextType = Context, ParentType extends ResolversParentTypes['WithdrawObservationPayload'] = ResolversParentTypes['WithdrawObservationPayload']> = {
  observation?: Resolver<Maybe<ResolversTypes['Observation']>, ParentType, ContextType>;
  entry?: Resolver<ResolversTypes['JournalEntry'], ParentType, ContextType>;
};

export type WithdrawalResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Withdrawal'] = ResolversParentTypes['Withdrawal']> = {
  by?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  on?: Resolver<ResolversTypes['DateTime'], ParentType, ContextType>;
  reason?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
};

export type ListMappingColumnResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ListMappingColumn'] = ResolversParentTypes['ListMappingColumn']> = {
  heading?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  field?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  unit?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
};

export type ListMappingResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ListMapping'] = ResolversParentTypes['ListMapping']> = {
  id?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  title?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  columns?: Resolver<ReadonlyArray<ResolversTypes['ListMappingColumn']>, ParentType, ContextType>;
  sheet?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  headingRow?: Resolver<Maybe<ResolversTypes['Int']>, ParentType, ContextType>;
  decimal?: Resolver<Maybe<ResolversTypes['TradeDecimalSign']>, ParentType, ContextType>;
  unit?: Resolver<Maybe<ResolversTypes['TradeLengthUnit']>, ParentType, ContextType>;
  note?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  visibility?: Resolver<Maybe<ResolversTypes['Visibility']>, ParentType, ContextType>;
  embargoUntil?: Resolver<Maybe<ResolversTypes['DateTime']>, ParentType, ContextType>;
  __isTypeOf?: IsTypeOfResolverFn<ParentType, ContextType>;
};

export type ListMappingConnectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ListMappingConnection'] = ResolversParentTypes['ListMappingConnection']> = {
  edges?: Resolver<ReadonlyArray<ResolversTypes['ListMappingEdge']>, ParentType, ContextType>;
  nodes?: Resolver<ReadonlyArray<ResolversTypes['ListMapping']>, ParentType, ContextType>;
  pageInfo?: Resolver<ResolversTypes['PageInfo'], ParentType, ContextType>;
  totalCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type ListMappingEdgeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ListMappingEdge'] = ResolversParentTypes['ListMappingEdge']> = {
  cursor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<ResolversTypes['ListMapping'], ParentType, ContextType>;
};

export type SaveListMappingPayloadResolvers<ContextType = Context, ParentType extends ResolversParentTypes['SaveListMappingPayload'] = ResolversParentTypes['SaveListMappingPayload']> = {
  listMapping?: Resolver<Maybe<ResolversTypes['ListMapping']>, ParentType, ContextType>;
  entry?: Resolver<Maybe<ResolversTypes['JournalEntry']>, ParentType, ContextType>;
};

export type MakerResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Maker'] = ResolversParentTypes['Maker']> = {
  id?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  name?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  makes?: Resolver<ReadonlyArray<ResolversTypes['Makes']>, ParentType, ContextType>;
  country?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  invented?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
  visibility?: Resolver<Maybe<ResolversTypes['Visibility']>, ParentType, ContextType>;
  embargoUntil?: Resolver<Maybe<ResolversTypes['DateTime']>, ParentType, ContextType>;
  recalled?: Resolver<Maybe<ResolversTypes['Recalled']>, ParentType, ContextType>;
  note?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  productLines?: Resolver<Maybe<ResolversTypes['ProductLineConnection']>, ParentType, ContextType, Partial<MakerProductLinesArgs>>;
  devices?: Resolver<Maybe<ResolversTypes['DeviceConnection']>, ParentType, ContextType, RequireFields<MakerDevicesArgs, 'orderBy'>>;
  parts?: Resolver<Maybe<ResolversTypes['PartConnection']>, ParentType, ContextType, RequireFields<MakerPartsArgs, 'orderBy'>>;
  __isTypeOf?: IsTypeOfResolverFn<ParentType, ContextType>;
};

export type ProductLineResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ProductLine'] = ResolversParentTypes['ProductLine']> = {
  id?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  name?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  maker?: Resolver<Maybe<ResolversTypes['Maker']>, ParentType, ContextType>;
  visibility?: Resolver<Maybe<ResolversTypes['Visibility']>, ParentType, ContextType>;
  embargoUntil?: Resolver<Maybe<ResolversTypes['DateTime']>, ParentType, ContextType>;
  recalled?: Resolver<Maybe<ResolversTypes['Recalled']>, ParentType, ContextType>;
  note?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  devices?: Resolver<Maybe<ResolversTypes['DeviceConnection']>, ParentType, ContextType, RequireFields<ProductLineDevicesArgs, 'orderBy'>>;
  __isTypeOf?: IsTypeOfResolverFn<ParentType, ContextType>;
};

export type MakerConnectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['MakerConnection'] = ResolversParentTypes['MakerConnection']> = {
  edges?: Resolver<ReadonlyArray<ResolversTypes['MakerEdge']>, ParentType, ContextType>;
  nodes?: Resolver<ReadonlyArray<ResolversTypes['Maker']>, ParentType, ContextType>;
  pageInfo?: Resolver<ResolversTypes['PageInfo'], ParentType, ContextType>;
  totalCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type MakerEdgeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['MakerEdge'] = ResolversParentTypes['MakerEdge']> = {
  cursor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<ResolversTypes['Maker'], ParentType, ContextType>;
};

export type ProductLineConnectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ProductLineConnection'] = ResolversParentTypes['ProductLineConnection']> = {
  edges?: Resolver<ReadonlyArray<ResolversTypes['ProductLineEdge']>, ParentType, ContextType>;
  nodes?: Resolver<ReadonlyArray<ResolversTypes['ProductLine']>, ParentType, ContextType>;
  pageInfo?: Resolver<ResolversTypes['PageInfo'], ParentType, ContextType>;
  totalCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type ProductLineEdgeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ProductLineEdge'] = ResolversParentTypes['ProductLineEdge']> = {
  cursor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<ResolversTypes['ProductLine'], ParentType, ContextType>;
};

export type MeasuredLengthResolvers<ContextType = Context, ParentType extends ResolversParentTypes['MeasuredLength'] = ResolversParentTypes['MeasuredLength']> = {
  value?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  low?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  high?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  uncertainty?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
};

export type MeasuredAngleResolvers<ContextType = Context, ParentType extends ResolversParentTypes['MeasuredAngle'] = ResolversParentTypes['MeasuredAngle']> = {
  value?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  low?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  high?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  uncertainty?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
};

export type MeasuredPercentageResolvers<ContextType = Context, ParentType extends ResolversParentTypes['MeasuredPercentage'] = ResolversParentTypes['MeasuredPercentage']> = {
  value?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  low?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  high?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  uncertainty?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
};

export type PhotoSpotResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PhotoSpot'] = ResolversParentTypes['PhotoSpot']> = {
  left?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  top?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
};

export type PhotoPointResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PhotoPoint'] = ResolversParentTypes['PhotoPoint']> = {
  at?: Resolver<ResolversTypes['PhotoSpot'], ParentType, ContextType>;
  x?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  y?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  within?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
};

export type PhotoMeasurementResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PhotoMeasurement'] = ResolversParentTypes['PhotoMeasurement']> = {
  photo?: Resolver<Maybe<ResolversTypes['Photo']>, ParentType, ContextType>;
  side?: Resolver<ResolversTypes['Side'], ParentType, ContextType>;
  plane?: Resolver<ResolversTypes['PhotoPlane'], ParentType, ContextType>;
  points?: Resolver<ReadonlyArray<ResolversTypes['FittedPoint']>, ParentType, ContextType>;
  degreesOfFreedom?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  residualPx?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  residualMm?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  fitProbability?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  scatter?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  mmPerPxLeast?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  mmPerPxMost?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  tilt?: Resolver<Maybe<ResolversTypes['MeasuredAngle']>, ParentType, ContextType>;
  cameraDistance?: Resolver<Maybe<ResolversTypes['MeasuredLength']>, ParentType, ContextType>;
  tiltEffects?: Resolver<ReadonlyArray<ResolversTypes['TiltEffect']>, ParentType, ContextType>;
  bending?: Resolver<Maybe<ResolversTypes['LensBending']>, ParentType, ContextType>;
  places?: Resolver<ReadonlyArray<ResolversTypes['MeasuredPlace']>, ParentType, ContextType>;
  lengths?: Resolver<ReadonlyArray<ResolversTypes['PhotoLength']>, ParentType, ContextType>;
  scale?: Resolver<Maybe<ResolversTypes['ScaleCheck']>, ParentType, ContextType>;
  bodies?: Resolver<ReadonlyArray<ResolversTypes['PhotoBody']>, ParentType, ContextType>;
  components?: Resolver<ReadonlyArray<ResolversTypes['PhotoComponent']>, ParentType, ContextType>;
  cautions?: Resolver<ReadonlyArray<ResolversTypes['String']>, ParentType, ContextType>;
};

export type FittedPointResolvers<ContextType = Context, ParentType extends ResolversParentTypes['FittedPoint'] = ResolversParentTypes['FittedPoint']> = {
  point?: Resolver<ResolversTypes['PhotoPoint'], ParentType, ContextType>;
  rightPx?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  downPx?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  xMm?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  yMm?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  standsOutMm?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
};

export type TiltEffectResolvers<ContextType = Context, ParentType extends ResolversParentTypes['TiltEffect'] = ResolversParentTypes['TiltEffect']> = {
  tilt?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  percent?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  percentNear?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
};

export type LensBendingResolvers<ContextType = Context, ParentType extends ResolversParentTypes['LensBending'] = ResolversParentTypes['LensBending']> = {
  kind?: Resolver<ResolversTypes['LensBendingKind'], ParentType, ContextType>;
  corners?: Resolver<ResolversTypes['MeasuredPercentage'], ParentType, ContextType>;
  leftMm?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
};

export type MeasuredPlaceResolvers<ContextType = Context, ParentType extends ResolversParentTypes['MeasuredPlace'] = ResolversParentTypes['MeasuredPlace']> = {
  x?: Resolver<ResolversTypes['MeasuredLength'], ParentType, ContextType>;
  y?: Resolver<ResolversTypes['MeasuredLength'], ParentType, ContextType>;
  isOutside?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
};

export type PhotoLengthResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PhotoLength'] = ResolversParentTypes['PhotoLength']> = {
  length?: Resolver<ResolversTypes['MeasuredLength'], ParentType, ContextType>;
  known?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  agreement?: Resolver<Maybe<ResolversTypes['MeasurementAgreement']>, ParentType, ContextType>;
};

export type ScaleCheckResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ScaleCheck'] = ResolversParentTypes['ScaleCheck']> = {
  lengths?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  inside?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  tooLong?: Resolver<ResolversTypes['MeasuredPercentage'], ParentType, ContextType>;
  isOff?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
  alongX?: Resolver<Maybe<ResolversTypes['MeasuredPercentage']>, ParentType, ContextType>;
  alongY?: Resolver<Maybe<ResolversTypes['MeasuredPercentage']>, ParentType, ContextType>;
  sentence?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
};

export type PhotoBodyResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PhotoBody'] = ResolversParentTypes['PhotoBody']> = {
  x?: Resolver<Maybe<ResolversTypes['MeasuredLength']>, ParentType, ContextType>;
  y?: Resolver<Maybe<ResolversTypes['MeasuredLength']>, ParentType, ContextType>;
  length?: Resolver<Maybe<ResolversTypes['MeasuredLength']>, ParentType, ContextType>;
  width?: Resolver<Maybe<ResolversTypes['MeasuredLength']>, ParentType, ContextType>;
  rotation?: Resolver<Maybe<ResolversTypes['MeasuredAngle']>, ParentType, ContextType>;
  parallax?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  problem?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
};

export type PhotoComponentResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PhotoComponent'] = ResolversParentTypes['PhotoComponent']> = {
  component?: Resolver<ResolversTypes['Component'], ParentType, ContextType>;
  body?: Resolver<ResolversTypes['PhotoBody'], ParentType, ContextType>;
  parallaxMm?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  position?: Resolver<Maybe<ResolversTypes['MeasurementAgreement']>, ParentType, ContextType>;
  length?: Resolver<Maybe<ResolversTypes['MeasurementAgreement']>, ParentType, ContextType>;
  width?: Resolver<Maybe<ResolversTypes['MeasurementAgreement']>, ParentType, ContextType>;
  part?: Resolver<Maybe<ResolversTypes['Part']>, ParentType, ContextType>;
  partLength?: Resolver<Maybe<ResolversTypes['MeasurementAgreement']>, ParentType, ContextType>;
  partWidth?: Resolver<Maybe<ResolversTypes['MeasurementAgreement']>, ParentType, ContextType>;
};

export type MeasurementAgreementResolvers<ContextType = Context, ParentType extends ResolversParentTypes['MeasurementAgreement'] = ResolversParentTypes['MeasurementAgreement']> = {
  difference?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  inUncertainties?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  chance?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  verdict?: Resolver<ResolversTypes['AgreementVerdict'], ParentType, ContextType>;
  sentence?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
};

export type NetResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Net'] = ResolversParentTypes['Net']> = {
  id?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  specimen?: Resolver<ResolversTypes['Specimen'], ParentType, ContextType>;
  label?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  kind?: Resolver<ResolversTypes['NetKind'], ParentType, ContextType>;
  voltage?: Resolver<Maybe<ResolversTypes['Quantity']>, ParentType, ContextType>;
  bus?: Resolver<Maybe<ResolversTypes['Bus']>, ParentType, ContextType>;
  pins?: Resolver<Maybe<ResolversTypes['NetPinConnection']>, ParentType, ContextType, Partial<NetPinsArgs>>;
  isComplete?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
  medium?: Resolver<Maybe<ResolversTypes['Medium']>, ParentType, ContextType>;
  basis?: Resolver<ReadonlyArray<ResolversTypes['Observation']>, ParentType, ContextType>;
  observations?: Resolver<Maybe<ResolversTypes['ObservationConnection']>, ParentType, ContextType, Partial<NetObservationsArgs>>;
  note?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  __isTypeOf?: IsTypeOfResolverFn<ParentType, ContextType>;
};

export type NetPinResolvers<ContextType = Context, ParentType extends ResolversParentTypes['NetPin'] = ResolversParentTypes['NetPin']> = {
  component?: Resolver<ResolversTypes['Component'], ParentType, ContextType>;
  number?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  name?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  direction?: Resolver<Maybe<ResolversTypes['PinDirection']>, ParentType, ContextType>;
  function?: Resolver<Maybe<ResolversTypes['PinFunction']>, ParentType, ContextType>;
  output?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
};

export type PinResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Pin'] = ResolversParentTypes['Pin']> = {
  number?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  name?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  direction?: Resolver<Maybe<ResolversTypes['PinDirection']>, ParentType, ContextType>;
  function?: Resolver<Maybe<ResolversTypes['PinFunction']>, ParentType, ContextType>;
  output?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  net?: Resolver<Maybe<ResolversTypes['Net']>, ParentType, ContextType>;
};

export type MatedPairResolvers<ContextType = Context, ParentType extends ResolversParentTypes['MatedPair'] = ResolversParentTypes['MatedPair']> = {
  first?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  second?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
};

export type NetConnectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['NetConnection'] = ResolversParentTypes['NetConnection']> = {
  edges?: Resolver<ReadonlyArray<ResolversTypes['NetEdge']>, ParentType, ContextType>;
  nodes?: Resolver<ReadonlyArray<ResolversTypes['Net']>, ParentType, ContextType>;
  pageInfo?: Resolver<ResolversTypes['PageInfo'], ParentType, ContextType>;
  totalCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type NetEdgeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['NetEdge'] = ResolversParentTypes['NetEdge']> = {
  cursor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<ResolversTypes['Net'], ParentType, ContextType>;
};

export type NetPinConnectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['NetPinConnection'] = ResolversParentTypes['NetPinConnection']> = {
  edges?: Resolver<ReadonlyArray<ResolversTypes['NetPinEdge']>, ParentType, ContextType>;
  nodes?: Resolver<ReadonlyArray<ResolversTypes['NetPin']>, ParentType, ContextType>;
  pageInfo?: Resolver<ResolversTypes['PageInfo'], ParentType, ContextType>;
  totalCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type NetPinEdgeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['NetPinEdge'] = ResolversParentTypes['NetPinEdge']> = {
  cursor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<ResolversTypes['NetPin'], ParentType, ContextType>;
};

export type PackResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Pack'] = ResolversParentTypes['Pack']> = {
  address?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  digest?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  files?: Resolver<ReadonlyArray<ResolversTypes['PackFile']>, ParentType, ContextType>;
  leftOut?: Resolver<ReadonlyArray<ResolversTypes['PackGap']>, ParentType, ContextType>;
  changes?: Resolver<Maybe<ReadonlyArray<ResolversTypes['PackDifference']>>, ParentType, ContextType, RequireFields<PackChangesArgs, 'since'>>;
};

export type PackFileResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PackFile'] = ResolversParentTypes['PackFile']> = {
  path?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  mediaType?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  title?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  sentences?: Resolver<ReadonlyArray<ResolversTypes['ID']>, ParentType, ContextType>;
};

export type PackGapResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PackGap'] = ResolversParentTypes['PackGap']> = {
  id?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  why?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
};

export type PackDifferenceResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PackDifference'] = ResolversParentTypes['PackDifference']> = {
  sentence?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  figure?: Resolver<Maybe<ResolversTypes['Int']>, ParentType, ContextType>;
  statement?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  isThere?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
  changes?: Resolver<ReadonlyArray<ResolversTypes['PackChange']>, ParentType, ContextType>;
  because?: Resolver<ReadonlyArray<ResolversTypes['String']>, ParentType, ContextType>;
};

export type PackChangeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PackChange'] = ResolversParentTypes['PackChange']> = {
  what?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  was?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  is?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
};

export type PartResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Part'] = ResolversParentTypes['Part']> = {
  id?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  number?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  maker?: Resolver<Maybe<ResolversTypes['Maker']>, ParentType, ContextType>;
  name?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  categories?: Resolver<ReadonlyArray<ResolversTypes['String']>, ParentType, ContextType>;
  package?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  pins?: Resolver<Maybe<ResolversTypes['Int']>, ParentType, ContextType>;
  pinout?: Resolver<ReadonlyArray<ResolversTypes['Pin']>, ParentType, ContextType>;
  body?: Resolver<Maybe<ResolversTypes['BodySize']>, ParentType, ContextType>;
  markings?: Resolver<ReadonlyArray<ResolversTypes['String']>, ParentType, ContextType>;
  introduced?: Resolver<Maybe<ResolversTypes['PartialDate']>, ParentType, ContextType>;
  discontinued?: Resolver<Maybe<ResolversTypes['PartialDate']>, ParentType, ContextType>;
  relabels?: Resolver<Maybe<ResolversTypes['Part']>, ParentType, ContextType>;
  relabelledAs?: Resolver<ReadonlyArray<ResolversTypes['Part']>, ParentType, ContextType>;
  parameters?: Resolver<ReadonlyArray<ResolversTypes['Parameter']>, ParentType, ContextType>;
  visibility?: Resolver<Maybe<ResolversTypes['Visibility']>, ParentType, ContextType>;
  embargoUntil?: Resolver<Maybe<ResolversTypes['DateTime']>, ParentType, ContextType>;
  recalled?: Resolver<Maybe<ResolversTypes['Recalled']>, ParentType, ContextType>;
  note?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  specimens?: Resolver<Maybe<ResolversTypes['PartUseConnection']>, ParentType, ContextType, Partial<PartSpecimensArgs>>;
  components?: Resolver<Maybe<ResolversTypes['ComponentConnection']>, ParentType, ContextType, Partial<PartComponentsArgs>>;
  __isTypeOf?: IsTypeOfResolverFn<ParentType, ContextType>;
};

export type ParameterResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Parameter'] = ResolversParentTypes['Parameter']> = {
  name?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  meaning?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  quantity?: Resolver<Maybe<ResolversTypes['Quantity']>, ParentType, ContextType>;
  text?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  flag?: Resolver<Maybe<ResolversTypes['Boolean']>, ParentType, ContextType>;
  count?: Resolver<Maybe<ResolversTypes['Int']>, ParentType, ContextType>;
};

export type PartUseResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PartUse'] = ResolversParentTypes['PartUse']> = {
  specimen?: Resolver<ResolversTypes['Specimen'], ParentType, ContextType>;
  part?: Resolver<ResolversTypes['Part'], ParentType, ContextType>;
  probability?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
};

export type PartConnectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PartConnection'] = ResolversParentTypes['PartConnection']> = {
  edges?: Resolver<ReadonlyArray<ResolversTypes['PartEdge']>, ParentType, ContextType>;
  nodes?: Resolver<ReadonlyArray<ResolversTypes['Part']>, ParentType, ContextType>;
  pageInfo?: Resolver<ResolversTypes['PageInfo'], ParentType, ContextType>;
  totalCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type PartEdgeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PartEdge'] = ResolversParentTypes['PartEdge']> = {
  cursor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<ResolversTypes['Part'], ParentType, ContextType>;
};

export type PartUseConnectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PartUseConnection'] = ResolversParentTypes['PartUseConnection']> = {
  edges?: Resolver<ReadonlyArray<ResolversTypes['PartUseEdge']>, ParentType, ContextType>;
  nodes?: Resolver<ReadonlyArray<ResolversTypes['PartUse']>, ParentType, ContextType>;
  pageInfo?: Resolver<ResolversTypes['PageInfo'], ParentType, ContextType>;
  totalCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type PartUseEdgeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PartUseEdge'] = ResolversParentTypes['PartUseEdge']> = {
  cursor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<ResolversTypes['PartUse'], ParentType, ContextType>;
};

export type PatternResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Pattern'] = ResolversParentTypes['Pattern']> = {
  id?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  name?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  idea?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  text?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  reasons?: Resolver<ReadonlyArray<ResolversTypes['String']>, ParentType, ContextType>;
  against?: Resolver<ReadonlyArray<ResolversTypes['String']>, ParentType, ContextType>;
  strength?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  note?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  visibility?: Resolver<Maybe<ResolversTypes['Visibility']>, ParentType, ContextType>;
  embargoUntil?: Resolver<Maybe<ResolversTypes['DateTime']>, ParentType, ContextType>;
  recalled?: Resolver<Maybe<ResolversTypes['Recalled']>, ParentType, ContextType>;
  check?: Resolver<Maybe<ResolversTypes['DesignCheck']>, ParentType, ContextType>;
  __isTypeOf?: IsTypeOfResolverFn<ParentType, ContextType>;
};

export type PatternDeviceResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PatternDevice'] = ResolversParentTypes['PatternDevice']> = {
  device?: Resolver<Maybe<ResolversTypes['Device']>, ParentType, ContextType>;
  isCertain?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
  probability?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  method?: Resolver<ResolversTypes['ProbabilityMethod'], ParentType, ContextType>;
  low?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  high?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  matchCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  matches?: Resolver<Maybe<ResolversTypes['PatternMatchConnection']>, ParentType, ContextType, Partial<PatternDeviceMatchesArgs>>;
};

export type PatternMatchResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PatternMatch'] = ResolversParentTypes['PatternMatch']> = {
  specimen?: Resolver<Maybe<ResolversTypes['Specimen']>, ParentType, ContextType>;
  bindings?: Resolver<ReadonlyArray<ResolversTypes['PatternBinding']>, ParentType, ContextType>;
  isCertain?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
  probability?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  drawings?: Resolver<Maybe<ReadonlyArray<ResolversTypes['Drawing']>>, ParentType, ContextType, Partial<PatternMatchDrawingsArgs>>;
};

export type PatternBindingResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PatternBinding'] = ResolversParentTypes['PatternBinding']> = {
  variable?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  ids?: Resolver<ReadonlyArray<ResolversTypes['ID']>, ParentType, ContextType>;
  nodes?: Resolver<ReadonlyArray<ResolversTypes['Node']>, ParentType, ContextType>;
};

export type PatternFacetsResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PatternFacets'] = ResolversParentTypes['PatternFacets']> = {
  makers?: Resolver<ReadonlyArray<ResolversTypes['PatternFacet']>, ParentType, ContextType>;
  years?: Resolver<ReadonlyArray<ResolversTypes['PatternFacet']>, ParentType, ContextType>;
  bodySites?: Resolver<ReadonlyArray<ResolversTypes['PatternFacet']>, ParentType, ContextType>;
};

export type PatternFacetResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PatternFacet'] = ResolversParentTypes['PatternFacet']> = {
  value?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  count?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  expected?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
};

export type PatternNearMatchResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PatternNearMatch'] = ResolversParentTypes['PatternNearMatch']> = {
  device?: Resolver<Maybe<ResolversTypes['Device']>, ParentType, ContextType>;
  missing?: Resolver<ReadonlyArray<ResolversTypes['String']>, ParentType, ContextType>;
};

export type PatternSearchedResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PatternSearched'] = ResolversParentTypes['PatternSearched']> = {
  specimens?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  of?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type PatternRowsResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PatternRows'] = ResolversParentTypes['PatternRows']> = {
  columns?: Resolver<ReadonlyArray<ResolversTypes['String']>, ParentType, ContextType>;
  rows?: Resolver<ReadonlyArray<ReadonlyArray<Maybe<ResolversTypes['PatternValue']>>>, ParentType, ContextType>;
  isComplete?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
  note?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  searched?: Resolver<Maybe<ResolversTypes['PatternSearched']>, ParentType, ContextType>;
  warnings?: Resolver<ReadonlyArray<ResolversTypes['String']>, ParentType, ContextType>;
};

export type PatternConnectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PatternConnection'] = ResolversParentTypes['PatternConnection']> = {
  edges?: Resolver<ReadonlyArray<ResolversTypes['PatternEdge']>, ParentType, ContextType>;
  nodes?: Resolver<ReadonlyArray<ResolversTypes['Pattern']>, ParentType, ContextType>;
  pageInfo?: Resolver<ResolversTypes['PageInfo'], ParentType, ContextType>;
  totalCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type PatternEdgeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PatternEdge'] = ResolversParentTypes['PatternEdge']> = {
  cursor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<ResolversTypes['Pattern'], ParentType, ContextType>;
};

export type PatternDeviceConnectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PatternDeviceConnection'] = ResolversParentTypes['PatternDeviceConnection']> = {
  edges?: Resolver<ReadonlyArray<ResolversTypes['PatternDeviceEdge']>, ParentType, ContextType>;
  nodes?: Resolver<ReadonlyArray<ResolversTypes['PatternDevice']>, ParentType, ContextType>;
  pageInfo?: Resolver<ResolversTypes['PageInfo'], ParentType, ContextType>;
  totalCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  certainCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  expectedCount?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  variables?: Resolver<ReadonlyArray<ResolversTypes['String']>, ParentType, ContextType>;
  warnings?: Resolver<ReadonlyArray<ResolversTypes['String']>, ParentType, ContextType>;
  isComplete?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
  note?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  searched?: Resolver<Maybe<ResolversTypes['PatternSearched']>, ParentType, ContextType>;
  facets?: Resolver<ResolversTypes['PatternFacets'], ParentType, ContextType>;
  nearMatches?: Resolver<Maybe<ResolversTypes['PatternNearMatchConnection']>, ParentType, ContextType, Partial<PatternDeviceConnectionNearMatchesArgs>>;
};

export type PatternDeviceEdgeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PatternDeviceEdge'] = ResolversParentTypes['PatternDeviceEdge']> = {
  cursor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<ResolversTypes['PatternDevice'], ParentType, ContextType>;
};

export type PatternMatchConnectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PatternMatchConnection'] = ResolversParentTypes['PatternMatchConnection']> = {
  edges?: Resolver<ReadonlyArray<ResolversTypes['PatternMatchEdge']>, ParentType, ContextType>;
  nodes?: Resolver<ReadonlyArray<ResolversTypes['PatternMatch']>, ParentType, ContextType>;
  pageInfo?: Resolver<ResolversTypes['PageInfo'], ParentType, ContextType>;
  totalCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type PatternMatchEdgeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PatternMatchEdge'] = ResolversParentTypes['PatternMatchEdge']> = {
  cursor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<ResolversTypes['PatternMatch'], ParentType, ContextType>;
};

export type PatternNearMatchConnectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PatternNearMatchConnection'] = ResolversParentTypes['PatternNearMatchConnection']> = {
  edges?: Resolver<ReadonlyArray<ResolversTypes['PatternNearMatchEdge']>, ParentType, ContextType>;
  nodes?: Resolver<ReadonlyArray<ResolversTypes['PatternNearMatch']>, ParentType, ContextType>;
  pageInfo?: Resolver<ResolversTypes['PageInfo'], ParentType, ContextType>;
  totalCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  isComplete?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
  note?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
};

export type PatternNearMatchEdgeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PatternNearMatchEdge'] = ResolversParentTypes['PatternNearMatchEdge']> = {
  cursor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<ResolversTypes['PatternNearMatch'], ParentType, ContextType>;
};

export interface PatternValueScalarConfig extends GraphQLScalarTypeConfig<ResolversTypes['PatternValue'], any> {
  name: 'PatternValue';
}

export type AskerResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Asker'] = ResolversParentTypes['Asker']> = {
  name?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  displayName?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  role?: Resolver<ResolversTypes['Role'], ParentType, ContextType>;
  expires?: Resolver<Maybe<ResolversTypes['DateTime']>, ParentType, ContextType>;
  isLocal?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
};

export type PersonResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Person'] = ResolversParentTypes['Person']> = {
  name?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  displayName?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  role?: Resolver<ResolversTypes['Role'], ParentType, ContextType>;
  state?: Resolver<ResolversTypes['PersonState'], ParentType, ContextType>;
  added?: Resolver<ResolversTypes['DateTime'], ParentType, ContextType>;
  tokens?: Resolver<ReadonlyArray<ResolversTypes['Token']>, ParentType, ContextType>;
};

export type TokenResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Token'] = ResolversParentTypes['Token']> = {
  id?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  label?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  created?: Resolver<ResolversTypes['DateTime'], ParentType, ContextType>;
  expires?: Resolver<ResolversTypes['DateTime'], ParentType, ContextType>;
  lastUsed?: Resolver<Maybe<ResolversTypes['DateTime']>, ParentType, ContextType>;
};

export type DisablePersonPayloadResolvers<ContextType = Context, ParentType extends ResolversParentTypes['DisablePersonPayload'] = ResolversParentTypes['DisablePersonPayload']> = {
  person?: Resolver<ResolversTypes['Person'], ParentType, ContextType>;
};

export type RevokeTokenPayloadResolvers<ContextType = Context, ParentType extends ResolversParentTypes['RevokeTokenPayload'] = ResolversParentTypes['RevokeTokenPayload']> = {
  id?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
};

export type PersonConnectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PersonConnection'] = ResolversParentTypes['PersonConnection']> = {
  edges?: Resolver<ReadonlyArray<ResolversTypes['PersonEdge']>, ParentType, ContextType>;
  nodes?: Resolver<ReadonlyArray<ResolversTypes['Person']>, ParentType, ContextType>;
  pageInfo?: Resolver<ResolversTypes['PageInfo'], ParentType, ContextType>;
  totalCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type PersonEdgeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PersonEdge'] = ResolversParentTypes['PersonEdge']> = {
  cursor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<ResolversTypes['Person'], ParentType, ContextType>;
};

export type ThumbnailResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Thumbnail'] = ResolversParentTypes['Thumbnail']> = {
  address?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  widthPx?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  heightPx?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type StepPictureResolvers<ContextType = Context, ParentType extends ResolversParentTypes['StepPicture'] = ResolversParentTypes['StepPicture']> = {
  photo?: Resolver<ResolversTypes['Photo'], ParentType, ContextType>;
  fragment?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  thumbnail?: Resolver<Maybe<ResolversTypes['Thumbnail']>, ParentType, ContextType>;
};

export type AddPhotoPayloadResolvers<ContextType = Context, ParentType extends ResolversParentTypes['AddPhotoPayload'] = ResolversParentTypes['AddPhotoPayload']> = {
  photo?: Resolver<Maybe<ResolversTypes['Photo']>, ParentType, ContextType>;
  entry?: Resolver<ResolversTypes['JournalEntry'], ParentType, ContextType>;
  cautions?: Resolver<ReadonlyArray<ResolversTypes['ChangeCaution']>, ParentType, ContextType>;
};

export type ChangePhotoPayloadResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ChangePhotoPayload'] = ResolversParentTypes['ChangePhotoPayload']> = {
  photo?: Resolver<Maybe<ResolversTypes['Photo']>, ParentType, ContextType>;
  entry?: Resolver<ResolversTypes['JournalEntry'], ParentType, ContextType>;
  cautions?: Resolver<ReadonlyArray<ResolversTypes['ChangeCaution']>, ParentType, ContextType>;
};

export type RecordMeasurementPayloadResolvers<ContextType = Context, ParentType extends ResolversParentTypes['RecordMeasurementPayload'] = ResolversParentTypes['RecordMeasurementPayload']> = {
  observation?: Resolver<Maybe<ResolversTypes['Observation']>, ParentType, ContextType>;
  entry?: Resolver<ResolversTypes['JournalEntry'], ParentType, ContextType>;
  cautions?: Resolver<ReadonlyArray<ResolversTypes['ChangeCaution']>, ParentType, ContextType>;
};

export type AlikePhotoResolvers<ContextType = Context, ParentType extends ResolversParentTypes['AlikePhoto'] = ResolversParentTypes['AlikePhoto']> = {
  photo?: Resolver<ResolversTypes['Photo'], ParentType, ContextType>;
  likeness?: Resolver<ResolversTypes['PhotoLikeness'], ParentType, ContextType>;
  bitsApart?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type DevicePresenceResolvers<ContextType = Context, ParentType extends ResolversParentTypes['DevicePresence'] = ResolversParentTypes['DevicePresence']> = {
  verdict?: Resolver<ResolversTypes['PresenceVerdict'], ParentType, ContextType>;
  probability?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  expected?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  certain?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  likely?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  possible?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  why?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  hasDifferingRevisions?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
  specimens?: Resolver<ReadonlyArray<ResolversTypes['SpecimenPresence']>, ParentType, ContextType>;
};

export type SpecimenPresenceResolvers<ContextType = Context, ParentType extends ResolversParentTypes['SpecimenPresence'] = ResolversParentTypes['SpecimenPresence']> = {
  specimen?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  verdict?: Resolver<ResolversTypes['PresenceVerdict'], ParentType, ContextType>;
  probability?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  expected?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  certain?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  likely?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  possible?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type PublicationResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Publication'] = ResolversParentTypes['Publication']> = {
  id?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  kind?: Resolver<ResolversTypes['PublicationKind'], ParentType, ContextType>;
  title?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  published?: Resolver<Maybe<ResolversTypes['PartialDate']>, ParentType, ContextType>;
  visibility?: Resolver<ResolversTypes['Visibility'], ParentType, ContextType>;
  embargoUntil?: Resolver<Maybe<ResolversTypes['DateTime']>, ParentType, ContextType>;
  recalled?: Resolver<Maybe<ResolversTypes['Recalled']>, ParentType, ContextType>;
  claims?: Resolver<ReadonlyArray<ResolversTypes['Claim']>, ParentType, ContextType>;
  note?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  citation?: Resolver<ResolversTypes['Json'], ParentType, ContextType>;
  corrections?: Resolver<Maybe<ReadonlyArray<ResolversTypes['Correction']>>, ParentType, ContextType>;
  pack?: Resolver<Maybe<ResolversTypes['Pack']>, ParentType, ContextType>;
  __isTypeOf?: IsTypeOfResolverFn<ParentType, ContextType>;
};

export type ClaimResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Claim'] = ResolversParentTypes['Claim']> = {
  id?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  publication?: Resolver<Maybe<ResolversTypes['Publication']>, ParentType, ContextType>;
  sentence?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  supportedBy?: Resolver<Maybe<ReadonlyArray<ResolversTypes['Node']>>, ParentType, ContextType>;
  probability?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  by?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  note?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  visibility?: Resolver<Maybe<ResolversTypes['Visibility']>, ParentType, ContextType>;
  embargoUntil?: Resolver<Maybe<ResolversTypes['DateTime']>, ParentType, ContextType>;
  audit?: Resolver<Maybe<ResolversTypes['AuditedClaim']>, ParentType, ContextType>;
  photos?: Resolver<Maybe<ReadonlyArray<ResolversTypes['ClaimPhoto']>>, ParentType, ContextType>;
  __isTypeOf?: IsTypeOfResolverFn<ParentType, ContextType>;
};

export type SourceResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Source'] = ResolversParentTypes['Source']> = {
  id?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  kind?: Resolver<ResolversTypes['SourceKind'], ParentType, ContextType>;
  title?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  url?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  licence?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  accessed?: Resolver<Maybe<ResolversTypes['PartialDate']>, ParentType, ContextType>;
  note?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  citation?: Resolver<ResolversTypes['Json'], ParentType, ContextType>;
  visibility?: Resolver<Maybe<ResolversTypes['Visibility']>, ParentType, ContextType>;
  embargoUntil?: Resolver<Maybe<ResolversTypes['DateTime']>, ParentType, ContextType>;
  recalled?: Resolver<Maybe<ResolversTypes['Recalled']>, ParentType, ContextType>;
  __isTypeOf?: IsTypeOfResolverFn<ParentType, ContextType>;
};

export type PublicationConnectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PublicationConnection'] = ResolversParentTypes['PublicationConnection']> = {
  edges?: Resolver<ReadonlyArray<ResolversTypes['PublicationEdge']>, ParentType, ContextType>;
  nodes?: Resolver<ReadonlyArray<ResolversTypes['Publication']>, ParentType, ContextType>;
  pageInfo?: Resolver<ResolversTypes['PageInfo'], ParentType, ContextType>;
  totalCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type PublicationEdgeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PublicationEdge'] = ResolversParentTypes['PublicationEdge']> = {
  cursor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<ResolversTypes['Publication'], ParentType, ContextType>;
};

export type SimilarDevicesResolvers<ContextType = Context, ParentType extends ResolversParentTypes['SimilarDevices'] = ResolversParentTypes['SimilarDevices']> = {
  of?: Resolver<ResolversTypes['ComparedDevice'], ParentType, ContextType>;
  comparedWith?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  devices?: Resolver<ReadonlyArray<ResolversTypes['SimilarDevice']>, ParentType, ContextType>;
};

export type SimilarDeviceResolvers<ContextType = Context, ParentType extends ResolversParentTypes['SimilarDevice'] = ResolversParentTypes['SimilarDevice']> = {
  device?: Resolver<ResolversTypes['Device'], ParentType, ContextType>;
  specimen?: Resolver<Maybe<ResolversTypes['Specimen']>, ParentType, ContextType>;
  similarity?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  shared?: Resolver<Maybe<ReadonlyArray<ResolversTypes['SharedNeighbourhood']>>, ParentType, ContextType, RequireFields<SimilarDeviceSharedArgs, 'first'>>;
};

export type SharedNeighbourhoodResolvers<ContextType = Context, ParentType extends ResolversParentTypes['SharedNeighbourhood'] = ResolversParentTypes['SharedNeighbourhood']> = {
  steps?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  words?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  inFirst?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  inSecond?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  share?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
};

export type DeviceClustersResolvers<ContextType = Context, ParentType extends ResolversParentTypes['DeviceClusters'] = ResolversParentTypes['DeviceClusters']> = {
  clusters?: Resolver<ReadonlyArray<ResolversTypes['DeviceCluster']>, ParentType, ContextType>;
  devices?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  modularity?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
};

export type DeviceClusterResolvers<ContextType = Context, ParentType extends ResolversParentTypes['DeviceCluster'] = ResolversParentTypes['DeviceCluster']> = {
  typical?: Resolver<ResolversTypes['Device'], ParentType, ContextType>;
  members?: Resolver<Maybe<ResolversTypes['ClusterMemberConnection']>, ParentType, ContextType, Partial<DeviceClusterMembersArgs>>;
  marks?: Resolver<ReadonlyArray<ResolversTypes['ClusterMark']>, ParentType, ContextType>;
};

export type ClusterMemberResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ClusterMember'] = ResolversParentTypes['ClusterMember']> = {
  device?: Resolver<ResolversTypes['Device'], ParentType, ContextType>;
  similarity?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
};

export type ClusterMarkResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ClusterMark'] = ResolversParentTypes['ClusterMark']> = {
  words?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  inside?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  outside?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type CircuitDistanceResolvers<ContextType = Context, ParentType extends ResolversParentTypes['CircuitDistance'] = ResolversParentTypes['CircuitDistance']> = {
  distance?: Resolver<Maybe<ResolversTypes['Int']>, ParentType, ContextType>;
  atLeast?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  atMost?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  method?: Resolver<ResolversTypes['CircuitDistanceMethod'], ParentType, ContextType>;
  relabelled?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  nodesRemoved?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  nodesAdded?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  edgesRemoved?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  edgesAdded?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  nodes?: Resolver<Maybe<ResolversTypes['CircuitNodeConnection']>, ParentType, ContextType, Partial<CircuitDistanceNodesArgs>>;
};

export type CircuitNodeConnectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['CircuitNodeConnection'] = ResolversParentTypes['CircuitNodeConnection']> = {
  edges?: Resolver<ReadonlyArray<ResolversTypes['CircuitNodeEdge']>, ParentType, ContextType>;
  nodes?: Resolver<ReadonlyArray<ResolversTypes['CircuitNode']>, ParentType, ContextType>;
  pageInfo?: Resolver<ResolversTypes['PageInfo'], ParentType, ContextType>;
  totalCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type CircuitNodeEdgeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['CircuitNodeEdge'] = ResolversParentTypes['CircuitNodeEdge']> = {
  cursor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<ResolversTypes['CircuitNode'], ParentType, ContextType>;
};

export type CircuitNodeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['CircuitNode'] = ResolversParentTypes['CircuitNode']> = {
  from?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  to?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  kindBefore?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  kindAfter?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
};

export type ClusterMemberConnectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ClusterMemberConnection'] = ResolversParentTypes['ClusterMemberConnection']> = {
  edges?: Resolver<ReadonlyArray<ResolversTypes['ClusterMemberEdge']>, ParentType, ContextType>;
  nodes?: Resolver<ReadonlyArray<ResolversTypes['ClusterMember']>, ParentType, ContextType>;
  pageInfo?: Resolver<ResolversTypes['PageInfo'], ParentType, ContextType>;
  totalCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type ClusterMemberEdgeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ClusterMemberEdge'] = ResolversParentTypes['ClusterMemberEdge']> = {
  cursor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<ResolversTypes['ClusterMember'], ParentType, ContextType>;
};

export type RecalledResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Recalled'] = ResolversParentTypes['Recalled']> = {
  by?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  on?: Resolver<ResolversTypes['DateTime'], ParentType, ContextType>;
  reason?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
};

export type SpecimenResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Specimen'] = ResolversParentTypes['Specimen']> = {
  id?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  device?: Resolver<Maybe<ResolversTypes['Device']>, ParentType, ContextType>;
  revision?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  bought?: Resolver<Maybe<ResolversTypes['PartialDate']>, ParentType, ContextType>;
  region?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  serial?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  condition?: Resolver<ResolversTypes['Condition'], ParentType, ContextType>;
  note?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  visibility?: Resolver<ResolversTypes['Visibility'], ParentType, ContextType>;
  embargoUntil?: Resolver<Maybe<ResolversTypes['DateTime']>, ParentType, ContextType>;
  recalled?: Resolver<Maybe<ResolversTypes['Recalled']>, ParentType, ContextType>;
  teardown?: Resolver<ResolversTypes['Teardown'], ParentType, ContextType>;
  boards?: Resolver<ReadonlyArray<ResolversTypes['Board']>, ParentType, ContextType>;
  subsystems?: Resolver<ReadonlyArray<ResolversTypes['Subsystem']>, ParentType, ContextType>;
  components?: Resolver<Maybe<ResolversTypes['ComponentConnection']>, ParentType, ContextType, Partial<SpecimenComponentsArgs>>;
  links?: Resolver<Maybe<ResolversTypes['PhysicalLinkConnection']>, ParentType, ContextType, Partial<SpecimenLinksArgs>>;
  nets?: Resolver<Maybe<ResolversTypes['NetConnection']>, ParentType, ContextType, Partial<SpecimenNetsArgs>>;
  observations?: Resolver<Maybe<ResolversTypes['ObservationConnection']>, ParentType, ContextType, Partial<SpecimenObservationsArgs>>;
  identifications?: Resolver<Maybe<ResolversTypes['IdentificationConnection']>, ParentType, ContextType, Partial<SpecimenIdentificationsArgs>>;
  photos?: Resolver<ReadonlyArray<ResolversTypes['Photo']>, ParentType, ContextType>;
  kindCounts?: Resolver<Maybe<ReadonlyArray<ResolversTypes['KindCount']>>, ParentType, ContextType, RequireFields<SpecimenKindCountsArgs, 'above'>>;
  subsystemCounts?: Resolver<ReadonlyArray<ResolversTypes['SubsystemCount']>, ParentType, ContextType>;
  blockDiagram?: Resolver<Maybe<ResolversTypes['Drawing']>, ParentType, ContextType, RequireFields<SpecimenBlockDiagramArgs, 'passives'>>;
  photoManifestAddress?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  presence?: Resolver<Maybe<ResolversTypes['SpecimenPresence']>, ParentType, ContextType, RequireFields<SpecimenPresenceArgs, 'of'>>;
  feeds?: Resolver<Maybe<ResolversTypes['PowerFeedConnection']>, ParentType, ContextType, Partial<SpecimenFeedsArgs>>;
  signalPaths?: Resolver<Maybe<ResolversTypes['SignalPathConnection']>, ParentType, ContextType, Partial<SpecimenSignalPathsArgs>>;
  sharedBuses?: Resolver<Maybe<ResolversTypes['SharedBusConnection']>, ParentType, ContextType, Partial<SpecimenSharedBusesArgs>>;
  __isTypeOf?: IsTypeOfResolverFn<ParentType, ContextType>;
};

export type TeardownResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Teardown'] = ResolversParentTypes['Teardown']> = {
  id?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  specimen?: Resolver<ResolversTypes['Specimen'], ParentType, ContextType>;
  on?: Resolver<ResolversTypes['PartialDate'], ParentType, ContextType>;
  by?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  recordedFrom?: Resolver<ResolversTypes['RecordSource'], ParentType, ContextType>;
  place?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  steps?: Resolver<ReadonlyArray<ResolversTypes['TeardownStep']>, ParentType, ContextType>;
  hazards?: Resolver<ReadonlyArray<ResolversTypes['String']>, ParentType, ContextType>;
  cautions?: Resolver<ReadonlyArray<ResolversTypes['String']>, ParentType, ContextType>;
  note?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  __isTypeOf?: IsTypeOfResolverFn<ParentType, ContextType>;
};

export type TeardownStepResolvers<ContextType = Context, ParentType extends ResolversParentTypes['TeardownStep'] = ResolversParentTypes['TeardownStep']> = {
  number?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  do?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  tool?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  minutes?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  isDestructive?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
  hazards?: Resolver<ReadonlyArray<ResolversTypes['String']>, ParentType, ContextType>;
  cautions?: Resolver<ReadonlyArray<ResolversTypes['String']>, ParentType, ContextType>;
  pictures?: Resolver<ReadonlyArray<ResolversTypes['StepPicture']>, ParentType, ContextType>;
};

export type BoardResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Board'] = ResolversParentTypes['Board']> = {
  id?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  specimen?: Resolver<ResolversTypes['Specimen'], ParentType, ContextType>;
  name?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  kind?: Resolver<ResolversTypes['BoardKind'], ParentType, ContextType>;
  outline?: Resolver<ReadonlyArray<ResolversTypes['Point']>, ParentType, ContextType>;
  holes?: Resolver<ReadonlyArray<ResolversTypes['Hole']>, ParentType, ContextType>;
  length?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  width?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  area?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  sides?: Resolver<ReadonlyArray<ResolversTypes['Side']>, ParentType, ContextType>;
  layers?: Resolver<Maybe<ResolversTypes['Int']>, ParentType, ContextType>;
  fullyInventoried?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
  fullyTraced?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
  stackedOn?: Resolver<Maybe<ResolversTypes['Board']>, ParentType, ContextType>;
  components?: Resolver<Maybe<ResolversTypes['ComponentConnection']>, ParentType, ContextType, Partial<BoardComponentsArgs>>;
  links?: Resolver<Maybe<ResolversTypes['PhysicalLinkConnection']>, ParentType, ContextType, Partial<BoardLinksArgs>>;
  note?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  drawing?: Resolver<Maybe<ResolversTypes['Drawing']>, ParentType, ContextType, RequireFields<BoardDrawingArgs, 'plain' | 'pictures'>>;
  planViews?: Resolver<Maybe<ReadonlyArray<ResolversTypes['PlanView']>>, ParentType, ContextType, Partial<BoardPlanViewsArgs>>;
  blockDiagram?: Resolver<Maybe<ResolversTypes['Drawing']>, ParentType, ContextType, RequireFields<BoardBlockDiagramArgs, 'passives'>>;
  __isTypeOf?: IsTypeOfResolverFn<ParentType, ContextType>;
};

export type HoleResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Hole'] = ResolversParentTypes['Hole']> = {
  outline?: Resolver<ReadonlyArray<ResolversTypes['Point']>, ParentType, ContextType>;
};

export type SubsystemResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Subsystem'] = ResolversParentTypes['Subsystem']> = {
  id?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  specimen?: Resolver<ResolversTypes['Specimen'], ParentType, ContextType>;
  kind?: Resolver<ResolversTypes['SubsystemKind'], ParentType, ContextType>;
  name?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  components?: Resolver<Maybe<ResolversTypes['ComponentConnection']>, ParentType, ContextType, Partial<SubsystemComponentsArgs>>;
  note?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  __isTypeOf?: IsTypeOfResolverFn<ParentType, ContextType>;
};

export type PhysicalLinkResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PhysicalLink'] = ResolversParentTypes['PhysicalLink']> = {
  ends?: Resolver<ReadonlyArray<ResolversTypes['Node']>, ParentType, ContextType>;
  medium?: Resolver<ResolversTypes['Medium'], ParentType, ContextType>;
  bus?: Resolver<Maybe<ResolversTypes['Bus']>, ParentType, ContextType>;
  lines?: Resolver<Maybe<ResolversTypes['Int']>, ParentType, ContextType>;
  pins?: Resolver<ReadonlyArray<ResolversTypes['MatedPair']>, ParentType, ContextType>;
  basis?: Resolver<ReadonlyArray<ResolversTypes['Observation']>, ParentType, ContextType>;
  note?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
};

export type ObservationResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Observation'] = ResolversParentTypes['Observation']> = {
  id?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  specimen?: Resolver<ResolversTypes['Specimen'], ParentType, ContextType>;
  kind?: Resolver<ResolversTypes['ObservationKind'], ParentType, ContextType>;
  about?: Resolver<ReadonlyArray<ResolversTypes['Node']>, ParentType, ContextType>;
  text?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  marking?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  value?: Resolver<Maybe<ResolversTypes['Quantity']>, ParentType, ContextType>;
  leadsTo?: Resolver<ReadonlyArray<ResolversTypes['Node']>, ParentType, ContextType>;
  photo?: Resolver<Maybe<ResolversTypes['Photo']>, ParentType, ContextType>;
  suggestion?: Resolver<Maybe<ResolversTypes['MarkingSuggestion']>, ParentType, ContextType>;
  method?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  on?: Resolver<Maybe<ResolversTypes['PartialDate']>, ParentType, ContextType>;
  by?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  corrects?: Resolver<Maybe<ResolversTypes['Observation']>, ParentType, ContextType>;
  cites?: Resolver<ReadonlyArray<ResolversTypes['Node']>, ParentType, ContextType>;
  correctedBy?: Resolver<ReadonlyArray<ResolversTypes['Observation']>, ParentType, ContextType>;
  note?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  withdrawn?: Resolver<Maybe<ResolversTypes['Withdrawal']>, ParentType, ContextType>;
  __isTypeOf?: IsTypeOfResolverFn<ParentType, ContextType>;
};

export type MarkingSuggestionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['MarkingSuggestion'] = ResolversParentTypes['MarkingSuggestion']> = {
  by?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  marking?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  region?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  turned?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
};

export type PhotoResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Photo'] = ResolversParentTypes['Photo']> = {
  id?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  specimen?: Resolver<ResolversTypes['Specimen'], ParentType, ContextType>;
  sha256?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  file?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  caption?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  credit?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  licence?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  regions?: Resolver<ReadonlyArray<ResolversTypes['PhotoRegion']>, ParentType, ContextType>;
  picture?: Resolver<Maybe<ResolversTypes['Picture']>, ParentType, ContextType>;
  board?: Resolver<Maybe<ResolversTypes['Board']>, ParentType, ContextType>;
  side?: Resolver<Maybe<ResolversTypes['Side']>, ParentType, ContextType>;
  points?: Resolver<ReadonlyArray<ResolversTypes['PhotoPoint']>, ParentType, ContextType>;
  annotations?: Resolver<Maybe<ResolversTypes['Json']>, ParentType, ContextType, Partial<PhotoAnnotationsArgs>>;
  alike?: Resolver<Maybe<ReadonlyArray<ResolversTypes['AlikePhoto']>>, ParentType, ContextType>;
  recordDigest?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  __isTypeOf?: IsTypeOfResolverFn<ParentType, ContextType>;
};

export type PictureResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Picture'] = ResolversParentTypes['Picture']> = {
  widthPx?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  heightPx?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  mediaType?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  bytes?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  servedSha256?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  address?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  annotationsAddress?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
};

export type PhotoRegionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PhotoRegion'] = ResolversParentTypes['PhotoRegion']> = {
  of?: Resolver<Maybe<ResolversTypes['Node']>, ParentType, ContextType>;
  fragment?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  step?: Resolver<Maybe<ResolversTypes['TeardownStep']>, ParentType, ContextType>;
  polygon?: Resolver<Maybe<ReadonlyArray<ResolversTypes['PhotoSpot']>>, ParentType, ContextType>;
  thumbnail?: Resolver<Maybe<ResolversTypes['Thumbnail']>, ParentType, ContextType>;
};

export type PhysicalLinkConnectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PhysicalLinkConnection'] = ResolversParentTypes['PhysicalLinkConnection']> = {
  edges?: Resolver<ReadonlyArray<ResolversTypes['PhysicalLinkEdge']>, ParentType, ContextType>;
  nodes?: Resolver<ReadonlyArray<ResolversTypes['PhysicalLink']>, ParentType, ContextType>;
  pageInfo?: Resolver<ResolversTypes['PageInfo'], ParentType, ContextType>;
  totalCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type PhysicalLinkEdgeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PhysicalLinkEdge'] = ResolversParentTypes['PhysicalLinkEdge']> = {
  cursor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<ResolversTypes['PhysicalLink'], ParentType, ContextType>;
};

export type ObservationConnectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ObservationConnection'] = ResolversParentTypes['ObservationConnection']> = {
  edges?: Resolver<ReadonlyArray<ResolversTypes['ObservationEdge']>, ParentType, ContextType>;
  nodes?: Resolver<ReadonlyArray<ResolversTypes['Observation']>, ParentType, ContextType>;
  pageInfo?: Resolver<ResolversTypes['PageInfo'], ParentType, ContextType>;
  totalCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type ObservationEdgeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ObservationEdge'] = ResolversParentTypes['ObservationEdge']> = {
  cursor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<ResolversTypes['Observation'], ParentType, ContextType>;
};

export type SpecimenConnectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['SpecimenConnection'] = ResolversParentTypes['SpecimenConnection']> = {
  edges?: Resolver<ReadonlyArray<ResolversTypes['SpecimenEdge']>, ParentType, ContextType>;
  nodes?: Resolver<ReadonlyArray<ResolversTypes['Specimen']>, ParentType, ContextType>;
  pageInfo?: Resolver<ResolversTypes['PageInfo'], ParentType, ContextType>;
  totalCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type SpecimenEdgeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['SpecimenEdge'] = ResolversParentTypes['SpecimenEdge']> = {
  cursor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<ResolversTypes['Specimen'], ParentType, ContextType>;
};

export type StructureIntervalResolvers<ContextType = Context, ParentType extends ResolversParentTypes['StructureInterval'] = ResolversParentTypes['StructureInterval']> = {
  low?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  high?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
};

export type StructureLinkResolvers<ContextType = Context, ParentType extends ResolversParentTypes['StructureLink'] = ResolversParentTypes['StructureLink']> = {
  relation?: Resolver<Maybe<ResolversTypes['StructureRelation']>, ParentType, ContextType>;
  from?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  to?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  bus?: Resolver<Maybe<ResolversTypes['Bus']>, ParentType, ContextType>;
  medium?: Resolver<Maybe<ResolversTypes['Medium']>, ParentType, ContextType>;
  boards?: Resolver<Maybe<ResolversTypes['StructureLinkBoards']>, ParentType, ContextType>;
};

export type StructureChanceResolvers<ContextType = Context, ParentType extends ResolversParentTypes['StructureChance'] = ResolversParentTypes['StructureChance']> = {
  expected?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  meeting?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  meetingError?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  lift?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  liftInterval?: Resolver<Maybe<ResolversTypes['StructureInterval']>, ParentType, ContextType>;
};

export type StructureTrendResolvers<ContextType = Context, ParentType extends ResolversParentTypes['StructureTrend'] = ResolversParentTypes['StructureTrend']> = {
  n?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  years?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  p?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  q?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  slope?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
};

export type KnownStructureResolvers<ContextType = Context, ParentType extends ResolversParentTypes['KnownStructure'] = ResolversParentTypes['KnownStructure']> = {
  pattern?: Resolver<ResolversTypes['Pattern'], ParentType, ContextType>;
  share?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
};

export type StructureResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Structure'] = ResolversParentTypes['Structure']> = {
  words?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  text?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  kinds?: Resolver<ReadonlyArray<ResolversTypes['String']>, ParentType, ContextType>;
  links?: Resolver<ReadonlyArray<ResolversTypes['StructureLink']>, ParentType, ContextType>;
  support?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  share?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  shareInterval?: Resolver<ResolversTypes['StructureInterval'], ParentType, ContextType>;
  possible?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  expected?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  chance?: Resolver<ResolversTypes['StructureChance'], ParentType, ContextType>;
  year?: Resolver<Maybe<ResolversTypes['StructureTrend']>, ParentType, ContextType>;
  knownAs?: Resolver<ReadonlyArray<ResolversTypes['KnownStructure']>, ParentType, ContextType>;
  variants?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  isExtendable?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
  devices?: Resolver<Maybe<ResolversTypes['DeviceConnection']>, ParentType, ContextType, Partial<StructureDevicesArgs>>;
};

export type StructuresResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Structures'] = ResolversParentTypes['Structures']> = {
  structures?: Resolver<ReadonlyArray<ResolversTypes['Structure']>, ParentType, ContextType>;
  found?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  devices?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  minSupport?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  relations?: Resolver<ReadonlyArray<ResolversTypes['StructureRelation']>, ParentType, ContextType>;
  isComplete?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
  cautions?: Resolver<ReadonlyArray<ResolversTypes['String']>, ParentType, ContextType>;
};

export type SavePatternPayloadResolvers<ContextType = Context, ParentType extends ResolversParentTypes['SavePatternPayload'] = ResolversParentTypes['SavePatternPayload']> = {
  pattern?: Resolver<ResolversTypes['Pattern'], ParentType, ContextType>;
  entry?: Resolver<ResolversTypes['JournalEntry'], ParentType, ContextType>;
};

export type TradeColumnResolvers<ContextType = Context, ParentType extends ResolversParentTypes['TradeColumn'] = ResolversParentTypes['TradeColumn']> = {
  heading?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  field?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  unit?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  isCertain?: Resolver<Maybe<ResolversTypes['Boolean']>, ParentType, ContextType>;
  suggestion?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  why?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
};

export type TradeRowResolvers<ContextType = Context, ParentType extends ResolversParentTypes['TradeRow'] = ResolversParentTypes['TradeRow']> = {
  line?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  cells?: Resolver<ReadonlyArray<ResolversTypes['String']>, ParentType, ContextType>;
};

export type TradeSkippedRowResolvers<ContextType = Context, ParentType extends ResolversParentTypes['TradeSkippedRow'] = ResolversParentTypes['TradeSkippedRow']> = {
  line?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  why?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
};

export type TradeTableResolvers<ContextType = Context, ParentType extends ResolversParentTypes['TradeTable'] = ResolversParentTypes['TradeTable']> = {
  sheet?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  headingRow?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  separator?: Resolver<Maybe<ResolversTypes['TradeSeparator']>, ParentType, ContextType>;
  encoding?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  decimal?: Resolver<Maybe<ResolversTypes['TradeDecimalSign']>, ParentType, ContextType>;
  rowCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  firstRows?: Resolver<ReadonlyArray<ResolversTypes['TradeRow']>, ParentType, ContextType>;
  skippedCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  skipped?: Resolver<ReadonlyArray<ResolversTypes['TradeSkippedRow']>, ParentType, ContextType>;
};

export type TradeFileReadingResolvers<ContextType = Context, ParentType extends ResolversParentTypes['TradeFileReading'] = ResolversParentTypes['TradeFileReading']> = {
  name?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  format?: Resolver<ResolversTypes['TradeFileFormat'], ParentType, ContextType>;
  boards?: Resolver<ReadonlyArray<ResolversTypes['String']>, ParentType, ContextType>;
  components?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  nets?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  understood?: Resolver<ReadonlyArray<ResolversTypes['String']>, ParentType, ContextType>;
  columns?: Resolver<ReadonlyArray<ResolversTypes['TradeColumn']>, ParentType, ContextType>;
  table?: Resolver<Maybe<ResolversTypes['TradeTable']>, ParentType, ContextType>;
};

export type TradeBoardReportResolvers<ContextType = Context, ParentType extends ResolversParentTypes['TradeBoardReport'] = ResolversParentTypes['TradeBoardReport']> = {
  board?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  isNew?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
  componentsInFiles?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  componentsAdded?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  componentsCompleted?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  netsInFiles?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  netsAdded?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  netsCompleted?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type TradeProposalResolvers<ContextType = Context, ParentType extends ResolversParentTypes['TradeProposal'] = ResolversParentTypes['TradeProposal']> = {
  kind?: Resolver<ResolversTypes['TradeProposalKind'], ParentType, ContextType>;
  of?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  proposed?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  because?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
};

export type TradeMissingResolvers<ContextType = Context, ParentType extends ResolversParentTypes['TradeMissing'] = ResolversParentTypes['TradeMissing']> = {
  board?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  what?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  count?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  of?: Resolver<ReadonlyArray<ResolversTypes['String']>, ParentType, ContextType>;
};

export type TradeDifferenceResolvers<ContextType = Context, ParentType extends ResolversParentTypes['TradeDifference'] = ResolversParentTypes['TradeDifference']> = {
  kind?: Resolver<ResolversTypes['TradeDifferenceKind'], ParentType, ContextType>;
  what?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
};

export type TradeConflictResolvers<ContextType = Context, ParentType extends ResolversParentTypes['TradeConflict'] = ResolversParentTypes['TradeConflict']> = {
  of?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  field?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  archive?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  files?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
};

export type TradeCautionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['TradeCaution'] = ResolversParentTypes['TradeCaution']> = {
  file?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  line?: Resolver<Maybe<ResolversTypes['Int']>, ParentType, ContextType>;
  path?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  what?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  fix?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
};

export type TradeReportResolvers<ContextType = Context, ParentType extends ResolversParentTypes['TradeReport'] = ResolversParentTypes['TradeReport']> = {
  isNew?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
  hasChanges?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
  files?: Resolver<ReadonlyArray<ResolversTypes['TradeFileReading']>, ParentType, ContextType>;
  boards?: Resolver<ReadonlyArray<ResolversTypes['TradeBoardReport']>, ParentType, ContextType>;
  proposalCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  proposals?: Resolver<ReadonlyArray<ResolversTypes['TradeProposal']>, ParentType, ContextType>;
  missing?: Resolver<ReadonlyArray<ResolversTypes['TradeMissing']>, ParentType, ContextType>;
  differenceCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  differences?: Resolver<ReadonlyArray<ResolversTypes['TradeDifference']>, ParentType, ContextType>;
  conflictCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  conflicts?: Resolver<ReadonlyArray<ResolversTypes['TradeConflict']>, ParentType, ContextType>;
  cautions?: Resolver<ReadonlyArray<ResolversTypes['TradeCaution']>, ParentType, ContextType>;
};

export type ImportTradeFilesPayloadResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ImportTradeFilesPayload'] = ResolversParentTypes['ImportTradeFilesPayload']> = {
  report?: Resolver<ResolversTypes['TradeReport'], ParentType, ContextType>;
  entries?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  specimen?: Resolver<Maybe<ResolversTypes['Specimen']>, ParentType, ContextType>;
  entry?: Resolver<Maybe<ResolversTypes['JournalEntry']>, ParentType, ContextType>;
};

export type TrendIntervalResolvers<ContextType = Context, ParentType extends ResolversParentTypes['TrendInterval'] = ResolversParentTypes['TrendInterval']> = {
  low?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  high?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
};

export type TrendMedianResolvers<ContextType = Context, ParentType extends ResolversParentTypes['TrendMedian'] = ResolversParentTypes['TrendMedian']> = {
  value?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  interval?: Resolver<Maybe<ResolversTypes['TrendInterval']>, ParentType, ContextType>;
};

export type TrendDistributionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['TrendDistribution'] = ResolversParentTypes['TrendDistribution']> = {
  minimum?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  lowerQuartile?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  median?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  upperQuartile?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  maximum?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
};

export type TrendCellResolvers<ContextType = Context, ParentType extends ResolversParentTypes['TrendCell'] = ResolversParentTypes['TrendCell']> = {
  devices?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  n?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  notObserved?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  absent?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  value?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  interval?: Resolver<Maybe<ResolversTypes['TrendInterval']>, ParentType, ContextType>;
  productLines?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  productLineInterval?: Resolver<Maybe<ResolversTypes['TrendInterval']>, ParentType, ContextType>;
  band?: Resolver<Maybe<ResolversTypes['TrendInterval']>, ParentType, ContextType>;
  outer?: Resolver<Maybe<ResolversTypes['TrendInterval']>, ParentType, ContextType>;
  certain?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  likely?: Resolver<Maybe<ResolversTypes['Int']>, ParentType, ContextType>;
  expected?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  possible?: Resolver<Maybe<ResolversTypes['Int']>, ParentType, ContextType>;
  distribution?: Resolver<Maybe<ResolversTypes['TrendDistribution']>, ParentType, ContextType>;
  median?: Resolver<Maybe<ResolversTypes['TrendMedian']>, ParentType, ContextType>;
  certainMedian?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
};

export type TrendPeriodResolvers<ContextType = Context, ParentType extends ResolversParentTypes['TrendPeriod'] = ResolversParentTypes['TrendPeriod']> = {
  period?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  start?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  devices?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  n?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  notObserved?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  absent?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  value?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  interval?: Resolver<Maybe<ResolversTypes['TrendInterval']>, ParentType, ContextType>;
  productLines?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  productLineInterval?: Resolver<Maybe<ResolversTypes['TrendInterval']>, ParentType, ContextType>;
  band?: Resolver<Maybe<ResolversTypes['TrendInterval']>, ParentType, ContextType>;
  outer?: Resolver<Maybe<ResolversTypes['TrendInterval']>, ParentType, ContextType>;
  certain?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  likely?: Resolver<Maybe<ResolversTypes['Int']>, ParentType, ContextType>;
  expected?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  possible?: Resolver<Maybe<ResolversTypes['Int']>, ParentType, ContextType>;
  distribution?: Resolver<Maybe<ResolversTypes['TrendDistribution']>, ParentType, ContextType>;
  median?: Resolver<Maybe<ResolversTypes['TrendMedian']>, ParentType, ContextType>;
  certainMedian?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
};

export type TrendTestResolvers<ContextType = Context, ParentType extends ResolversParentTypes['TrendTest'] = ResolversParentTypes['TrendTest']> = {
  name?: Resolver<ResolversTypes['TrendTestName'], ParentType, ContextType>;
  n?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  periods?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  z?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  p?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  byProductLine?: Resolver<Maybe<ResolversTypes['TrendLineTest']>, ParentType, ContextType>;
  basis?: Resolver<ResolversTypes['TrendIndependence'], ParentType, ContextType>;
  q?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  qAtMost?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  slope?: Resolver<Maybe<ResolversTypes['Float']>, ParentType, ContextType>;
  slopeInterval?: Resolver<Maybe<ResolversTypes['TrendInterval']>, ParentType, ContextType>;
  isRobust?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
};

export type TrendLineTestResolvers<ContextType = Context, ParentType extends ResolversParentTypes['TrendLineTest'] = ResolversParentTypes['TrendLineTest']> = {
  productLines?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  t?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  degreesOfFreedom?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  p?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  designEffect?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  slopeInterval?: Resolver<Maybe<ResolversTypes['TrendInterval']>, ParentType, ContextType>;
};

export type TrendVerdictResolvers<ContextType = Context, ParentType extends ResolversParentTypes['TrendVerdict'] = ResolversParentTypes['TrendVerdict']> = {
  isSufficient?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
  direction?: Resolver<Maybe<ResolversTypes['TrendDirection']>, ParentType, ContextType>;
  sentence?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
};

export type TrendSeriesResolvers<ContextType = Context, ParentType extends ResolversParentTypes['TrendSeries'] = ResolversParentTypes['TrendSeries']> = {
  group?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  label?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  total?: Resolver<ResolversTypes['TrendCell'], ParentType, ContextType>;
  undated?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  periods?: Resolver<ReadonlyArray<ResolversTypes['TrendPeriod']>, ParentType, ContextType>;
  test?: Resolver<Maybe<ResolversTypes['TrendTest']>, ParentType, ContextType>;
  verdict?: Resolver<ResolversTypes['TrendVerdict'], ParentType, ContextType>;
};

export type TrendAdopterResolvers<ContextType = Context, ParentType extends ResolversParentTypes['TrendAdopter'] = ResolversParentTypes['TrendAdopter']> = {
  device?: Resolver<ResolversTypes['Device'], ParentType, ContextType>;
  probability?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
  isCertain?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
  probabilityFirst?: Resolver<ResolversTypes['Float'], ParentType, ContextType>;
};

export type TrendResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Trend'] = ResolversParentTypes['Trend']> = {
  of?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  unit?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  per?: Resolver<ResolversTypes['TrendPeriodLength'], ParentType, ContextType>;
  by?: Resolver<Maybe<ResolversTypes['TrendFacet']>, ParentType, ContextType>;
  total?: Resolver<ResolversTypes['TrendSeries'], ParentType, ContextType>;
  groups?: Resolver<ReadonlyArray<ResolversTypes['TrendSeries']>, ParentType, ContextType>;
  firstAdopters?: Resolver<ReadonlyArray<ResolversTypes['TrendAdopter']>, ParentType, ContextType>;
  cautions?: Resolver<ReadonlyArray<ResolversTypes['String']>, ParentType, ContextType>;
  chart?: Resolver<Maybe<ResolversTypes['Chart']>, ParentType, ContextType, RequireFields<TrendChartArgs, 'size'>>;
  totalsChart?: Resolver<Maybe<ResolversTypes['Chart']>, ParentType, ContextType, RequireFields<TrendTotalsChartArgs, 'size'>>;
  adoptersChart?: Resolver<Maybe<ResolversTypes['Chart']>, ParentType, ContextType, RequireFields<TrendAdoptersChartArgs, 'size'>>;
};

export type WebhookResolvers<ContextType = Context, ParentType extends ResolversParentTypes['Webhook'] = ResolversParentTypes['Webhook']> = {
  id?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  feed?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  address?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  events?: Resolver<ReadonlyArray<ResolversTypes['WebhookEvent']>, ParentType, ContextType>;
  audience?: Resolver<ResolversTypes['Audience'], ParentType, ContextType>;
  owner?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  created?: Resolver<ResolversTypes['DateTime'], ParentType, ContextType>;
  state?: Resolver<ResolversTypes['WebhookState'], ParentType, ContextType>;
  note?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  previousSecretUntil?: Resolver<Maybe<ResolversTypes['DateTime']>, ParentType, ContextType>;
  messages?: Resolver<ReadonlyArray<ResolversTypes['WebhookMessage']>, ParentType, ContextType>;
};

export type WebhookMessageResolvers<ContextType = Context, ParentType extends ResolversParentTypes['WebhookMessage'] = ResolversParentTypes['WebhookMessage']> = {
  id?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
  type?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  created?: Resolver<ResolversTypes['DateTime'], ParentType, ContextType>;
  state?: Resolver<ResolversTypes['WebhookMessageState'], ParentType, ContextType>;
  tries?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  nextTry?: Resolver<Maybe<ResolversTypes['DateTime']>, ParentType, ContextType>;
  lastTry?: Resolver<Maybe<ResolversTypes['DateTime']>, ParentType, ContextType>;
  outcome?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
};

export type WebhookConnectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['WebhookConnection'] = ResolversParentTypes['WebhookConnection']> = {
  edges?: Resolver<ReadonlyArray<ResolversTypes['WebhookEdge']>, ParentType, ContextType>;
  nodes?: Resolver<ReadonlyArray<ResolversTypes['Webhook']>, ParentType, ContextType>;
  pageInfo?: Resolver<ResolversTypes['PageInfo'], ParentType, ContextType>;
  totalCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type WebhookEdgeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['WebhookEdge'] = ResolversParentTypes['WebhookEdge']> = {
  cursor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<ResolversTypes['Webhook'], ParentType, ContextType>;
};

export type RegisterWebhookPayloadResolvers<ContextType = Context, ParentType extends ResolversParentTypes['RegisterWebhookPayload'] = ResolversParentTypes['RegisterWebhookPayload']> = {
  webhook?: Resolver<ResolversTypes['Webhook'], ParentType, ContextType>;
  secret?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
};

export type RotateWebhookSecretPayloadResolvers<ContextType = Context, ParentType extends ResolversParentTypes['RotateWebhookSecretPayload'] = ResolversParentTypes['RotateWebhookSecretPayload']> = {
  webhook?: Resolver<ResolversTypes['Webhook'], ParentType, ContextType>;
  secret?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
};

export type ResumeWebhookPayloadResolvers<ContextType = Context, ParentType extends ResolversParentTypes['ResumeWebhookPayload'] = ResolversParentTypes['ResumeWebhookPayload']> = {
  webhook?: Resolver<ResolversTypes['Webhook'], ParentType, ContextType>;
};

export type TestWebhookPayloadResolvers<ContextType = Context, ParentType extends ResolversParentTypes['TestWebhookPayload'] = ResolversParentTypes['TestWebhookPayload']> = {
  message?: Resolver<ResolversTypes['WebhookMessage'], ParentType, ContextType>;
};

export type RemoveWebhookPayloadResolvers<ContextType = Context, ParentType extends ResolversParentTypes['RemoveWebhookPayload'] = ResolversParentTypes['RemoveWebhookPayload']> = {
  id?: Resolver<ResolversTypes['ID'], ParentType, ContextType>;
};

export type PowerFeedResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PowerFeed'] = ResolversParentTypes['PowerFeed']> = {
  source?: Resolver<ResolversTypes['Component'], ParentType, ContextType>;
  load?: Resolver<ResolversTypes['Component'], ParentType, ContextType>;
  voltage?: Resolver<Maybe<ResolversTypes['Quantity']>, ParentType, ContextType>;
  output?: Resolver<Maybe<ResolversTypes['String']>, ParentType, ContextType>;
  supply?: Resolver<Maybe<ResolversTypes['SupplyKind']>, ParentType, ContextType>;
  isSwitched?: Resolver<Maybe<ResolversTypes['Boolean']>, ParentType, ContextType>;
  through?: Resolver<ReadonlyArray<ResolversTypes['Component']>, ParentType, ContextType>;
};

export type SignalPathResolvers<ContextType = Context, ParentType extends ResolversParentTypes['SignalPath'] = ResolversParentTypes['SignalPath']> = {
  ends?: Resolver<ReadonlyArray<ResolversTypes['Component']>, ParentType, ContextType>;
  bus?: Resolver<Maybe<ResolversTypes['Bus']>, ParentType, ContextType>;
  lines?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
  through?: Resolver<ReadonlyArray<ResolversTypes['Component']>, ParentType, ContextType>;
  isBoardToBoard?: Resolver<ResolversTypes['Boolean'], ParentType, ContextType>;
};

export type SharedBusResolvers<ContextType = Context, ParentType extends ResolversParentTypes['SharedBus'] = ResolversParentTypes['SharedBus']> = {
  ends?: Resolver<ReadonlyArray<ResolversTypes['Component']>, ParentType, ContextType>;
  bus?: Resolver<ResolversTypes['Bus'], ParentType, ContextType>;
  lines?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type PowerFeedConnectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PowerFeedConnection'] = ResolversParentTypes['PowerFeedConnection']> = {
  edges?: Resolver<ReadonlyArray<ResolversTypes['PowerFeedEdge']>, ParentType, ContextType>;
  nodes?: Resolver<ReadonlyArray<ResolversTypes['PowerFeed']>, ParentType, ContextType>;
  pageInfo?: Resolver<ResolversTypes['PageInfo'], ParentType, ContextType>;
  totalCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type PowerFeedEdgeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['PowerFeedEdge'] = ResolversParentTypes['PowerFeedEdge']> = {
  cursor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<ResolversTypes['PowerFeed'], ParentType, ContextType>;
};

export type SignalPathConnectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['SignalPathConnection'] = ResolversParentTypes['SignalPathConnection']> = {
  edges?: Resolver<ReadonlyArray<ResolversTypes['SignalPathEdge']>, ParentType, ContextType>;
  nodes?: Resolver<ReadonlyArray<ResolversTypes['SignalPath']>, ParentType, ContextType>;
  pageInfo?: Resolver<ResolversTypes['PageInfo'], ParentType, ContextType>;
  totalCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type SignalPathEdgeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['SignalPathEdge'] = ResolversParentTypes['SignalPathEdge']> = {
  cursor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<ResolversTypes['SignalPath'], ParentType, ContextType>;
};

export type SharedBusConnectionResolvers<ContextType = Context, ParentType extends ResolversParentTypes['SharedBusConnection'] = ResolversParentTypes['SharedBusConnection']> = {
  edges?: Resolver<ReadonlyArray<ResolversTypes['SharedBusEdge']>, ParentType, ContextType>;
  nodes?: Resolver<ReadonlyArray<ResolversTypes['SharedBus']>, ParentType, ContextType>;
  pageInfo?: Resolver<ResolversTypes['PageInfo'], ParentType, ContextType>;
  totalCount?: Resolver<ResolversTypes['Int'], ParentType, ContextType>;
};

export type SharedBusEdgeResolvers<ContextType = Context, ParentType extends ResolversParentTypes['SharedBusEdge'] = ResolversParentTypes['SharedBusEdge']> = {
  cursor?: Resolver<ResolversTypes['String'], ParentType, ContextType>;
  node?: Resolver<ResolversTypes['SharedBus'], ParentType, ContextType>;
};

export type Resolvers<ContextType = Context> = {
  Node?: NodeResolvers<ContextType>;
  Query?: QueryResolvers<ContextType>;
  Archive?: ArchiveResolvers<ContextType>;
  SearchHit?: SearchHitResolvers<ContextType>;
  Term?: TermResolvers<ContextType>;
  SearchHitConnection?: SearchHitConnectionResolvers<ContextType>;
  SearchHitEdge?: SearchHitEdgeResolvers<ContextType>;
  JournalEntry?: JournalEntryResolvers<ContextType>;
  ChangeCaution?: ChangeCautionResolvers<ContextType>;
  ImportDossierPayload?: ImportDossierPayloadResolvers<ContextType>;
  ReadersDifference?: ReadersDifferenceResolvers<ContextType>;
  RecallPayload?: RecallPayloadResolvers<ContextType>;
  RecordObservationPayload?: RecordObservationPayloadResolvers<ContextType>;
  SetIdentificationPayload?: SetIdentificationPayloadResolvers<ContextType>;
  Mutation?: MutationResolvers<ContextType>;
  Chart?: ChartResolvers<ContextType>;
  PartialDate?: GraphQLScalarType;
  DateTime?: GraphQLScalarType;
  Quantity?: QuantityResolvers<ContextType>;
  Dimensions?: DimensionsResolvers<ContextType>;
  BodySize?: BodySizeResolvers<ContextType>;
  Point?: PointResolvers<ContextType>;
  Money?: MoneyResolvers<ContextType>;
  PageInfo?: PageInfoResolvers<ContextType>;
  Comparison?: ComparisonResolvers<ContextType>;
  ComparedDevice?: ComparedDeviceResolvers<ContextType>;
  KindRow?: KindRowResolvers<ContextType>;
  SubsystemRow?: SubsystemRowResolvers<ContextType>;
  ComparisonSection?: ComparisonSectionResolvers<ContextType>;
  ComparisonRow?: ComparisonRowResolvers<ContextType>;
  ComparisonCell?: ComparisonCellResolvers<ContextType>;
  Alignment?: AlignmentResolvers<ContextType>;
  AlignmentRow?: AlignmentRowResolvers<ContextType>;
  AlignedComponent?: AlignedComponentResolvers<ContextType>;
  ComponentChange?: ComponentChangeResolvers<ContextType>;
  AlignmentStep?: AlignmentStepResolvers<ContextType>;
  ChangeTally?: ChangeTallyResolvers<ContextType>;
  AlignmentWeight?: AlignmentWeightResolvers<ContextType>;
  Component?: ComponentResolvers<ContextType>;
  Label?: LabelResolvers<ContextType>;
  Identification?: IdentificationResolvers<ContextType>;
  Candidate?: CandidateResolvers<ContextType>;
  ComponentConnection?: ComponentConnectionResolvers<ContextType>;
  ComponentEdge?: ComponentEdgeResolvers<ContextType>;
  IdentificationConnection?: IdentificationConnectionResolvers<ContextType>;
  IdentificationEdge?: IdentificationEdgeResolvers<ContextType>;
  Decision?: DecisionResolvers<ContextType>;
  DecisionJudgement?: DecisionJudgementResolvers<ContextType>;
  JudgeDecisionPayload?: JudgeDecisionPayloadResolvers<ContextType>;
  DecisionConnection?: DecisionConnectionResolvers<ContextType>;
  DecisionEdge?: DecisionEdgeResolvers<ContextType>;
  DesignCheck?: DesignCheckResolvers<ContextType>;
  DesignCheckInput?: DesignCheckInputResolvers<ContextType>;
  TypicalRange?: TypicalRangeResolvers<ContextType>;
  DesignCheckOutput?: DesignCheckOutputResolvers<ContextType>;
  CheckResult?: CheckResultResolvers<ContextType>;
  CheckedValue?: CheckedValueResolvers<ContextType>;
  BoundCheck?: BoundCheckResolvers<ContextType>;
  BoundInput?: BoundInputResolvers<ContextType>;
  Device?: DeviceResolvers<ContextType>;
  RegulatoryId?: RegulatoryIdResolvers<ContextType>;
  KindCount?: KindCountResolvers<ContextType>;
  SubsystemCount?: SubsystemCountResolvers<ContextType>;
  DeviceConnection?: DeviceConnectionResolvers<ContextType>;
  DeviceEdge?: DeviceEdgeResolvers<ContextType>;
  Drawing?: DrawingResolvers<ContextType>;
  PlanView?: PlanViewResolvers<ContextType>;
  PlanPhoto?: PlanPhotoResolvers<ContextType>;
  SheetSpot?: SheetSpotResolvers<ContextType>;
  PlanHatch?: PlanHatchResolvers<ContextType>;
  AuditedClaim?: AuditedClaimResolvers<ContextType>;
  Statement?: StatementResolvers<ContextType>;
  ClaimSupport?: ClaimSupportResolvers<ContextType>;
  SupportItem?: SupportItemResolvers<ContextType>;
  ClaimFinding?: ClaimFindingResolvers<ContextType>;
  NamedThing?: NamedThingResolvers<ContextType>;
  Impact?: ImpactResolvers<ContextType>;
  ImpactedThing?: ImpactedThingResolvers<ContextType>;
  Difference?: DifferenceResolvers<ContextType>;
  DecisionDifference?: DecisionDifferenceResolvers<ContextType>;
  CellDifference?: CellDifferenceResolvers<ContextType>;
  CellFigures?: CellFiguresResolvers<ContextType>;
  TrendPointDifference?: TrendPointDifferenceResolvers<ContextType>;
  ClaimDifference?: ClaimDifferenceResolvers<ContextType>;
  Correction?: CorrectionResolvers<ContextType>;
  CorrectedPublication?: CorrectedPublicationResolvers<ContextType>;
  CorrectedClaim?: CorrectedClaimResolvers<ContextType>;
  CorrectPayload?: CorrectPayloadResolvers<ContextType>;
  ClaimPhoto?: ClaimPhotoResolvers<ContextType>;
  AuditedClaimConnection?: AuditedClaimConnectionResolvers<ContextType>;
  AuditedClaimEdge?: AuditedClaimEdgeResolvers<ContextType>;
  CorrectionConnection?: CorrectionConnectionResolvers<ContextType>;
  CorrectionEdge?: CorrectionEdgeResolvers<ContextType>;
  ImpactedThingConnection?: ImpactedThingConnectionResolvers<ContextType>;
  ImpactedThingEdge?: ImpactedThingEdgeResolvers<ContextType>;
  DecisionDifferenceConnection?: DecisionDifferenceConnectionResolvers<ContextType>;
  DecisionDifferenceEdge?: DecisionDifferenceEdgeResolvers<ContextType>;
  CellDifferenceConnection?: CellDifferenceConnectionResolvers<ContextType>;
  CellDifferenceEdge?: CellDifferenceEdgeResolvers<ContextType>;
  TrendPointDifferenceConnection?: TrendPointDifferenceConnectionResolvers<ContextType>;
  TrendPointDifferenceEdge?: TrendPointDifferenceEdgeResolvers<ContextType>;
  ClaimDifferenceConnection?: ClaimDifferenceConnectionResolvers<ContextType>;
  ClaimDifferenceEdge?: ClaimDifferenceEdgeResolvers<ContextType>;
  Export?: ExportResolvers<ContextType>;
  ExportFile?: ExportFileResolvers<ContextType>;
  ExportLoss?: ExportLossResolvers<ContextType>;
  Json?: GraphQLScalarType;
  Feed?: FeedResolvers<ContextType>;
  FeedConnection?: FeedConnectionResolvers<ContextType>;
  FeedEdge?: FeedEdgeResolvers<ContextType>;
  Subscription?: SubscriptionResolvers<ContextType>;
  FeedChange?: FeedChangeResolvers<ContextType>;
  SaveFeedPayload?: SaveFeedPayloadResolvers<ContextType>;
  Generations?: GenerationsResolvers<ContextType>;
  Generation?: GenerationResolvers<ContextType>;
  GenerationStep?: GenerationStepResolvers<ContextType>;
  DecisionAdoption?: DecisionAdoptionResolvers<ContextType>;
  PartSighting?: PartSightingResolvers<ContextType>;
  MakerSighting?: MakerSightingResolvers<ContextType>;
  KeptPart?: KeptPartResolvers<ContextType>;
  Integration?: IntegrationResolvers<ContextType>;
  HardwareRevision?: HardwareRevisionResolvers<ContextType>;
  HistoryEntry?: HistoryEntryResolvers<ContextType>;
  ArchiveDifference?: ArchiveDifferenceResolvers<ContextType>;
  RecordDifference?: RecordDifferenceResolvers<ContextType>;
  FieldDifference?: FieldDifferenceResolvers<ContextType>;
  CorrectClockPayload?: CorrectClockPayloadResolvers<ContextType>;
  HistoryEntryConnection?: HistoryEntryConnectionResolvers<ContextType>;
  HistoryEntryEdge?: HistoryEntryEdgeResolvers<ContextType>;
  RecordDifferenceConnection?: RecordDifferenceConnectionResolvers<ContextType>;
  RecordDifferenceEdge?: RecordDifferenceEdgeResolvers<ContextType>;
  Candidates?: CandidatesResolvers<ContextType>;
  Disagreement?: DisagreementResolvers<ContextType>;
  DisagreementConnection?: DisagreementConnectionResolvers<ContextType>;
  DisagreementEdge?: DisagreementEdgeResolvers<ContextType>;
  PossibleClass?: PossibleClassResolvers<ContextType>;
  PossibleRole?: PossibleRoleResolvers<ContextType>;
  ClassObservation?: ClassObservationResolvers<ContextType>;
  CandidateSet?: CandidateSetResolvers<ContextType>;
  PossibleKind?: PossibleKindResolvers<ContextType>;
  PossiblePart?: PossiblePartResolvers<ContextType>;
  Evidence?: EvidenceResolvers<ContextType>;
  PossibleCategory?: PossibleCategoryResolvers<ContextType>;
  PossibleMaker?: PossibleMakerResolvers<ContextType>;
  NextObservation?: NextObservationResolvers<ContextType>;
  MarkingReading?: MarkingReadingResolvers<ContextType>;
  PhotoReading?: PhotoReadingResolvers<ContextType>;
  PhotoLine?: PhotoLineResolvers<ContextType>;
  PhotoCharacter?: PhotoCharacterResolvers<ContextType>;
  CharacterAlternative?: CharacterAlternativeResolvers<ContextType>;
  OtherPhotoReading?: OtherPhotoReadingResolvers<ContextType>;
  CandidatesIfConfirmed?: CandidatesIfConfirmedResolvers<ContextType>;
  PartIfConfirmed?: PartIfConfirmedResolvers<ContextType>;
  MarkingLine?: MarkingLineResolvers<ContextType>;
  CodeReading?: CodeReadingResolvers<ContextType>;
  MarkingMatch?: MarkingMatchResolvers<ContextType>;
  Calibration?: CalibrationResolvers<ContextType>;
  HeldOutCalibration?: HeldOutCalibrationResolvers<ContextType>;
  ReliabilityBin?: ReliabilityBinResolvers<ContextType>;
  JudgeIdentificationPayload?: JudgeIdentificationPayloadResolvers<ContextType>;
  WithdrawObservationPayload?: WithdrawObservationPayloadResolvers<ContextType>;
  Withdrawal?: WithdrawalResolvers<ContextType>;
  ListMappingColumn?: ListMappingColumnResolvers<ContextType>;
  ListMapping?: ListMappingResolvers<ContextType>;
  ListMappingConnection?: ListMappingConnectionResolvers<ContextType>;
  ListMappingEdge?: ListMappingEdgeResolvers<ContextType>;
  SaveListMappingPayload?: SaveListMappingPayloadResolvers<ContextType>;
  Maker?: MakerResolvers<ContextType>;
  ProductLine?: ProductLineResolvers<ContextType>;
  MakerConnection?: MakerConnectionResolvers<ContextType>;
  MakerEdge?: MakerEdgeResolvers<ContextType>;
  ProductLineConnection?: ProductLineConnectionResolvers<ContextType>;
  ProductLineEdge?: ProductLineEdgeResolvers<ContextType>;
  MeasuredLength?: MeasuredLengthResolvers<ContextType>;
  MeasuredAngle?: MeasuredAngleResolvers<ContextType>;
  MeasuredPercentage?: MeasuredPercentageResolvers<ContextType>;
  PhotoSpot?: PhotoSpotResolvers<ContextType>;
  PhotoPoint?: PhotoPointResolvers<ContextType>;
  PhotoMeasurement?: PhotoMeasurementResolvers<ContextType>;
  FittedPoint?: FittedPointResolvers<ContextType>;
  TiltEffect?: TiltEffectResolvers<ContextType>;
  LensBending?: LensBendingResolvers<ContextType>;
  MeasuredPlace?: MeasuredPlaceResolvers<ContextType>;
  PhotoLength?: PhotoLengthResolvers<ContextType>;
  ScaleCheck?: ScaleCheckResolvers<ContextType>;
  PhotoBody?: PhotoBodyResolvers<ContextType>;
  PhotoComponent?: PhotoComponentResolvers<ContextType>;
  MeasurementAgreement?: MeasurementAgreementResolvers<ContextType>;
  Net?: NetResolvers<ContextType>;
  NetPin?: NetPinResolvers<ContextType>;
  Pin?: PinResolvers<ContextType>;
  MatedPair?: MatedPairResolvers<ContextType>;
  NetConnection?: NetConnectionResolvers<ContextType>;
  NetEdge?: NetEdgeResolvers<ContextType>;
  NetPinConnection?: NetPinConnectionResolvers<ContextType>;
  NetPinEdge?: NetPinEdgeResolvers<ContextType>;
  Pack?: PackResolvers<ContextType>;
  PackFile?: PackFileResolvers<ContextType>;
  PackGap?: PackGapResolvers<ContextType>;
  PackDifference?: PackDifferenceResolvers<ContextType>;
  PackChange?: PackChangeResolvers<ContextType>;
  Part?: PartResolvers<ContextType>;
  Parameter?: ParameterResolvers<ContextType>;
  PartUse?: PartUseResolvers<ContextType>;
  PartConnection?: PartConnectionResolvers<ContextType>;
  PartEdge?: PartEdgeResolvers<ContextType>;
  PartUseConnection?: PartUseConnectionResolvers<ContextType>;
  PartUseEdge?: PartUseEdgeResolvers<ContextType>;
  Pattern?: PatternResolvers<ContextType>;
  PatternDevice?: PatternDeviceResolvers<ContextType>;
  PatternMatch?: PatternMatchResolvers<ContextType>;
  PatternBinding?: PatternBindingResolvers<ContextType>;
  PatternFacets?: PatternFacetsResolvers<ContextType>;
  PatternFacet?: PatternFacetResolvers<ContextType>;
  PatternNearMatch?: PatternNearMatchResolvers<ContextType>;
  PatternSearched?: PatternSearchedResolvers<ContextType>;
  PatternRows?: PatternRowsResolvers<ContextType>;
  PatternConnection?: PatternConnectionResolvers<ContextType>;
  PatternEdge?: PatternEdgeResolvers<ContextType>;
  PatternDeviceConnection?: PatternDeviceConnectionResolvers<ContextType>;
  PatternDeviceEdge?: PatternDeviceEdgeResolvers<ContextType>;
  PatternMatchConnection?: PatternMatchConnectionResolvers<ContextType>;
  PatternMatchEdge?: PatternMatchEdgeResolvers<ContextType>;
  PatternNearMatchConnection?: PatternNearMatchConnectionResolvers<ContextType>;
  PatternNearMatchEdge?: PatternNearMatchEdgeResolvers<ContextType>;
  PatternValue?: GraphQLScalarType;
  Asker?: AskerResolvers<ContextType>;
  Person?: PersonResolvers<ContextType>;
  Token?: TokenResolvers<ContextType>;
  DisablePersonPayload?: DisablePersonPayloadResolvers<ContextType>;
  RevokeTokenPayload?: RevokeTokenPayloadResolvers<ContextType>;
  PersonConnection?: PersonConnectionResolvers<ContextType>;
  PersonEdge?: PersonEdgeResolvers<ContextType>;
  Thumbnail?: ThumbnailResolvers<ContextType>;
  StepPicture?: StepPictureResolvers<ContextType>;
  AddPhotoPayload?: AddPhotoPayloadResolvers<ContextType>;
  ChangePhotoPayload?: ChangePhotoPayloadResolvers<ContextType>;
  RecordMeasurementPayload?: RecordMeasurementPayloadResolvers<ContextType>;
  AlikePhoto?: AlikePhotoResolvers<ContextType>;
  DevicePresence?: DevicePresenceResolvers<ContextType>;
  SpecimenPresence?: SpecimenPresenceResolvers<ContextType>;
  Publication?: PublicationResolvers<ContextType>;
  Claim?: ClaimResolvers<ContextType>;
  Source?: SourceResolvers<ContextType>;
  PublicationConnection?: PublicationConnectionResolvers<ContextType>;
  PublicationEdge?: PublicationEdgeResolvers<ContextType>;
  SimilarDevices?: SimilarDevicesResolvers<ContextType>;
  SimilarDevice?: SimilarDeviceResolvers<ContextType>;
  SharedNeighbourhood?: SharedNeighbourhoodResolvers<ContextType>;
  DeviceClusters?: DeviceClustersResolvers<ContextType>;
  DeviceCluster?: DeviceClusterResolvers<ContextType>;
  ClusterMember?: ClusterMemberResolvers<ContextType>;
  ClusterMark?: ClusterMarkResolvers<ContextType>;
  CircuitDistance?: CircuitDistanceResolvers<ContextType>;
  CircuitNodeConnection?: CircuitNodeConnectionResolvers<ContextType>;
  CircuitNodeEdge?: CircuitNodeEdgeResolvers<ContextType>;
  CircuitNode?: CircuitNodeResolvers<ContextType>;
  ClusterMemberConnection?: ClusterMemberConnectionResolvers<ContextType>;
  ClusterMemberEdge?: ClusterMemberEdgeResolvers<ContextType>;
  Recalled?: RecalledResolvers<ContextType>;
  Specimen?: SpecimenResolvers<ContextType>;
  Teardown?: TeardownResolvers<ContextType>;
  TeardownStep?: TeardownStepResolvers<ContextType>;
  Board?: BoardResolvers<ContextType>;
  Hole?: HoleResolvers<ContextType>;
  Subsystem?: SubsystemResolvers<ContextType>;
  PhysicalLink?: PhysicalLinkResolvers<ContextType>;
  Observation?: ObservationResolvers<ContextType>;
  MarkingSuggestion?: MarkingSuggestionResolvers<ContextType>;
  Photo?: PhotoResolvers<ContextType>;
  Picture?: PictureResolvers<ContextType>;
  PhotoRegion?: PhotoRegionResolvers<ContextType>;
  PhysicalLinkConnection?: PhysicalLinkConnectionResolvers<ContextType>;
  PhysicalLinkEdge?: PhysicalLinkEdgeResolvers<ContextType>;
  ObservationConnection?: ObservationConnectionResolvers<ContextType>;
  ObservationEdge?: ObservationEdgeResolvers<ContextType>;
  SpecimenConnection?: SpecimenConnectionResolvers<ContextType>;
  SpecimenEdge?: SpecimenEdgeResolvers<ContextType>;
  StructureInterval?: StructureIntervalResolvers<ContextType>;
  StructureLink?: StructureLinkResolvers<ContextType>;
  StructureChance?: StructureChanceResolvers<ContextType>;
  StructureTrend?: StructureTrendResolvers<ContextType>;
  KnownStructure?: KnownStructureResolvers<ContextType>;
  Structure?: StructureResolvers<ContextType>;
  Structures?: StructuresResolvers<ContextType>;
  SavePatternPayload?: SavePatternPayloadResolvers<ContextType>;
  TradeColumn?: TradeColumnResolvers<ContextType>;
  TradeRow?: TradeRowResolvers<ContextType>;
  TradeSkippedRow?: TradeSkippedRowResolvers<ContextType>;
  TradeTable?: TradeTableResolvers<ContextType>;
  TradeFileReading?: TradeFileReadingResolvers<ContextType>;
  TradeBoardReport?: TradeBoardReportResolvers<ContextType>;
  TradeProposal?: TradeProposalResolvers<ContextType>;
  TradeMissing?: TradeMissingResolvers<ContextType>;
  TradeDifference?: TradeDifferenceResolvers<ContextType>;
  TradeConflict?: TradeConflictResolvers<ContextType>;
  TradeCaution?: TradeCautionResolvers<ContextType>;
  TradeReport?: TradeReportResolvers<ContextType>;
  ImportTradeFilesPayload?: ImportTradeFilesPayloadResolvers<ContextType>;
  TrendInterval?: TrendIntervalResolvers<ContextType>;
  TrendMedian?: TrendMedianResolvers<ContextType>;
  TrendDistribution?: TrendDistributionResolvers<ContextType>;
  TrendCell?: TrendCellResolvers<ContextType>;
  TrendPeriod?: TrendPeriodResolvers<ContextType>;
  TrendTest?: TrendTestResolvers<ContextType>;
  TrendLineTest?: TrendLineTestResolvers<ContextType>;
  TrendVerdict?: TrendVerdictResolvers<ContextType>;
  TrendSeries?: TrendSeriesResolvers<ContextType>;
  TrendAdopter?: TrendAdopterResolvers<ContextType>;
  Trend?: TrendResolvers<ContextType>;
  Webhook?: WebhookResolvers<ContextType>;
  WebhookMessage?: WebhookMessageResolvers<ContextType>;
  WebhookConnection?: WebhookConnectionResolvers<ContextType>;
  WebhookEdge?: WebhookEdgeResolvers<ContextType>;
  RegisterWebhookPayload?: RegisterWebhookPayloadResolvers<ContextType>;
  RotateWebhookSecretPayload?: RotateWebhookSecretPayloadResolvers<ContextType>;
  ResumeWebhookPayload?: ResumeWebhookPayloadResolvers<ContextType>;
  TestWebhookPayload?: TestWebhookPayloadResolvers<ContextType>;
  RemoveWebhookPayload?: RemoveWebhookPayloadResolvers<ContextType>;
  PowerFeed?: PowerFeedResolvers<ContextType>;
  SignalPath?: SignalPathResolvers<ContextType>;
  SharedBus?: SharedBusResolvers<ContextType>;
  PowerFeedConnection?: PowerFeedConnectionResolvers<ContextType>;
  PowerFeedEdge?: PowerFeedEdgeResolvers<ContextType>;
  SignalPathConnection?: SignalPathConnectionResolvers<ContextType>;
  SignalPathEdge?: SignalPathEdgeResolvers<ContextType>;
  SharedBusConnection?: SharedBusConnectionResolvers<ContextType>;
  SharedBusEdge?: SharedBusEdgeResolvers<ContextType>;
};

export type DirectiveResolvers<ContextType = Context> = {
  cost?: CostDirectiveResolver<any, any, ContextType>;
};
