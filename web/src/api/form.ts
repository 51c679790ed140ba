// What the server says about the form of a blade. Lengths in metres, angles in degrees, shares plain.
import type { DesignDocument } from './types';

export type FormKind = 'ribbed' | 'block' | 'solid' | 'cylinder' | 'templates';

/** Lengths are text with a unit, as a builder writes them; all may be left out. */
export type FormWishes = {
  kind?: FormKind;
  cylinder?: string;
  strain_limit?: string;
  gauge_radius?: string;
  rib_sheet?: string;
  printer_bed?: string;
  slice_step?: string;
};

export type FormRequest = DesignDocument & { wishes: FormWishes };

export type FormStation = {
  radius_m: number;
  chord_m: number;
  angle_deg: number;
  pitch_m: number;
  set_angle_deg: number;
  set_pitch_m: number;
  /** Share of the set pitch that one degree is there. */
  pitch_per_degree: number;
  block_width_m: number;
  block_height_m: number;
  camber: number;
  camber_height_m: number;
  sheet_width_m: number;
  at_45deg: boolean;
};

export type Point2 = readonly [number, number];
export type Point3 = readonly [number, number, number];

export type PatternStrain = {
  method: string;
  worst_stretch: number;
  worst_squeeze: number;
  worst_radius_m: number;
  worst_at_m: Point2;
  area_ratio: number;
  plain_difference_m: number;
  within_limit: boolean;
  limit: number;
};

/** Along the spar line, across it (positive to the leading edge); strain signed, one a triangle. */
export type PatternMap = {
  outline_m: Point2[];
  plain_outline_m: Point2[];
  points_m: Point2[];
  triangles: [number, number, number][];
  strain: number[];
};

export type SurfaceRow = { radius_m: number; angle_deg: number; points_m: Point3[] };
export type ScenePart = { part: string; label: string; radius_m: number | null; closed: boolean; points_m: Point3[] };
export type FormSize = { label: string; value_m: number };

export type CylinderFit = {
  diameter_m: number;
  skew_deg: number;
  twist_deg_per_m: number;
  rms_angle_error_deg: number;
  stations: { radius_m: number; angle_deg: number; angle_error_deg: number; pitch_m: number; camber: number }[];
};

export type RibSet = {
  thickness_m: number;
  depth_m: number;
  slices: number;
  blank_arc_m: number;
  slice_steps: number;
  step_m: number;
  rows: {
    number: number;
    radius_m: number;
    chord_m: number;
    camber: number;
    arc_m: number;
    trimmed_m: number;
    along_spar_m: number | null;
  }[];
};

export type OutlineStrip = { length_m: number; with_allowance_m: number; tightest_radius_m: number | null; bending_strain: number };
export type Covering = { cut_area_m2: number; area_m2: number; mass_kg: number };
export type CoveringFrame = {
  sticks: { name: string; count: number; length_m: number; angle_deg: number }[];
  worst_angle_error_deg: number;
};

export type DrawingGroup = 'blade' | 'form' | 'ribs' | 'covering' | 'gauge';
export type DrawingLine = {
  kind: 'cut' | 'score' | 'centre' | 'station';
  closed: boolean;
  dashed: boolean;
  label: string;
  value_m: number;
  points_m: Point2[];
};
export type DrawingText = { x_m: number; y_m: number; text: string; angle_deg: number; value_m: number };
/** A template at true size, x right, y up. */
export type Drawing = { name: string; title: string; group: DrawingGroup; lines: DrawingLine[]; texts: DrawingText[] };

export type FormAnswer = {
  hand: 'clockwise' | 'anticlockwise';
  kind: FormKind;
  form_pitch_m: number | null;
  radius_45deg_m: number | null;
  turn_deg: number;
  set_pitch_m: number;
  gauge_radius_m: number;
  gauge_angle_deg: number;
  set_radius_45deg_m: number | null;
  flying_pitch_m: number | null;
  stations: FormStation[];
  flat_pattern: { along_m: number; lead_m: number; trail_m: number; strain: number }[];
  flat_pattern_strain: PatternStrain;
  pattern_map: PatternMap;
  surface: { rows: SurfaceRow[]; spar_m: Point3[] };
  scene: ScenePart[];
  base_z_m: number | null;
  sizes: FormSize[];
  cylinder: CylinderFit | null;
  ribs: RibSet | null;
  strip: OutlineStrip | null;
  covering: Covering | null;
  frame: CoveringFrame | null;
  drawings: Drawing[];
  notes: string[];
};

export type ResetRequest = { made_on: string; at: string; pitch?: string; angle?: string; radii?: string[] };
export type ResetAnswer = {
  form_pitch_m: number;
  gauge_radius_m: number;
  turn_deg: number;
  stations: { radius_m: number; angle_deg: number; pitch_m: number }[];
};

export type FormFile = 'pdf' | 'svg' | 'dxf' | 'stl' | '3mf' | 'step';
export type FormWork = FormRequest & {
  kind: 'form';
  file: FormFile;
  paper?: 'a4' | 'letter';
  bar_measured?: string;
  dxf_unit?: 'mm' | 'in';
};
export type FormDone = { file: string; file_name: string; size_bytes: number; pages?: number };
