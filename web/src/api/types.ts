// The shapes the server answers with, by the names the pages use. They mirror docs/openapi.yaml.

export type Problem = {
  file?: string | null;
  line?: number | null;
  field: string;
  value: string;
  allowed: string;
  remedy: string;
  message: string;
};

export type JobScalar = string | number | boolean;
export type JobValue = JobScalar | JobTable | JobTable[];
export type JobTable = { [key: string]: JobValue };
export type Attachments = { rubber_test_csv?: string; polar_csv?: string };
export type DesignDocument = { job: JobTable; attachments?: Attachments };

export type Profile = 'metric' | 'inch';
export type ByProfile<T> = { metric: T; inch: T };

export type FieldInfo = {
  field: string;
  kind: string;
  low: number | null;
  high: number | null;
  low_text: ByProfile<string>;
  high_text: ByProfile<string>;
  default_text: string;
  choices: string[];
  meaning: string;
  unit: ByProfile<string>;
  factor: ByProfile<number>;
  offset: ByProfile<number>;
  digits: ByProfile<number>;
  step: ByProfile<number>;
};

export type Headline = {
  duration_s: number;
  sigma_s: number | null;
  sigma_basis: 'sensitivities' | 'samples' | null;
  sentence_metric: string;
  sentence_inch: string;
};

export type Follows = {
  density_kg_m3: number;
  viscosity_Pa_s: number;
  pressure_Pa: number;
  level_speed_m_s: number;
  level_thrust_N: number;
  motor_energy_J: number;
  bound_s: number;
  share_of_bound: number;
};

export type FallStep = { key: string; label: string; seconds: number };

export type History = {
  time_s: number[];
  height_m: number[];
  rev_per_s: number[];
  torque_Nm: number[];
  speed_m_s: number[];
  turns: number[];
};

export type BladeShape = {
  radius_m: number[];
  chord_m: number[];
  lead_m: number[];
  trail_m: number[];
  angle_deg: number[];
  pitch_m: number[];
  camber: number[];
  form_pitch_m: number[];
  radius_45_m: number | null;
  gauge_radius_m: number;
  gauge_angle_deg: number;
  set_pitch_m: number;
  turn_deg: number;
  spar_position: number;
};

export type PhaseKey = 'launch' | 'cruise' | 'let_down';

export type Phase = {
  key: PhaseKey;
  time_s: number;
  speed_m_s: number;
  rev_per_s: number;
  motor_torque_Nm: number;
  advance_ratio: number;
  efficiency: number | null;
  stations: {
    radius_m: number[];
    alpha_deg: number[];
    state: string[];
    cl: number[];
    re: number[];
  };
};

export type RotorCurves = {
  speed_m_s: number;
  rev_per_s: number[];
  efficiency: (number | null)[];
  torque_Nm: number[];
  thrust_N: number[];
  best: { rev_per_s: number; efficiency: number } | null;
  flown: { low_rev_per_s: number; high_rev_per_s: number };
  level: { rev_per_s: number; thrust_N: number } | null;
};

export type MotorCurve = {
  turns: number[];
  torque_Nm: number[];
  wound: number;
  launch: number;
  left: number;
  breaking: number;
  mass_kg: number;
  energy_J: number;
};

export type EnergyLedger = { [key: string]: number };
export type WeightRow = { part: string; mass_kg: number; basis: string };
export type RuleRow = {
  limit: string;
  rule: number;
  yours: number;
  spare: number;
  kind: string;
};

export type Flight = {
  headline: Headline;
  duration_s: number;
  bound_s: number;
  top_height_m: number;
  top_time_s: number;
  touches: number;
  turns_wound: number;
  turns_at_launch: number;
  turns_left: number;
  breaking_turns: number;
  launch_torque_Nm: number;
  mean_rev_per_s: number;
  cruise_speed_m_s: number;
  end: string;
  follows: Follows;
  fall: FallStep[];
  history: History;
  blade: BladeShape;
  phases: Phase[];
  rotor: RotorCurves;
  motor: MotorCurve;
  energy_J: EnergyLedger;
  weights: WeightRow[];
  rules: RuleRow[];
  values: { [field: string]: number };
  notes: string[];
  warnings: string[];
};

export type Spread = {
  sigma_s: number;
  duration_interval_s: number[];
  top_height_interval_m: number[];
  touch_probability: number;
  samples: number;
  failed: number;
  band: { time_s: number[]; low_m: number[]; high_m: number[] };
};

export type RecordKind = 'halls' | 'models' | 'rubbers' | 'motors' | 'designs';

export type RecordSummary = {
  id: string;
  name: string;
  updated_at: string;
  archived: boolean;
  etag: string;
};

export type DesignSummary = RecordSummary & {
  version: number;
  duration_s: number | null;
  diameter_m: number | null;
  built: boolean;
  hall?: string | null;
  model?: string | null;
};

export type DesignVersion = { version: number; saved_at: string; built_at: string | null; note: string; duration_s: number | null };

export type DesignRecord = {
  id: string;
  name: string;
  version: number;
  archived: boolean;
  etag?: string;
  document: DesignDocument;
  versions: DesignVersion[];
};

export type RecordPage<T> = { total: number; items: T[] };

export type Example = { id: string; title: string; document: DesignDocument };
export type Health = { status: string; version: string; workshop: string; schema_version: number };
