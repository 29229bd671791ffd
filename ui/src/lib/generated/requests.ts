// Generated from Rust by `make types`. Do not edit.

import type * as T from "./types";

/** Arguments and answer of every request, by name. */
export interface Requests {
  shelf: { arguments: T.Nothing; answer: T.Shelf };
  set_person: { arguments: T.SetPerson; answer: Array<T.Changed> };
  look_at_plan: { arguments: T.PlanText; answer: T.PlanLook };
  look_at_shape: { arguments: T.ShapeTyped; answer: T.ShapeLook };
  start_job: { arguments: T.PlanText; answer: T.Started };
  start_sample: { arguments: T.Nothing; answer: T.Started };
  revise_plan: { arguments: T.RevisePlan; answer: T.Logged };
  job: { arguments: T.OfJob; answer: T.JobView };
  laying: { arguments: T.PlanText; answer: T.LayingView };
  job_laying: { arguments: T.OfJob; answer: T.LayingView };
  dip_target: { arguments: T.DipPlace; answer: T.DipTarget };
  target_at: { arguments: T.TargetPlace; answer: T.TargetAt };
  log: { arguments: T.LogEntry; answer: T.Logged };
  diary: { arguments: T.OfJob; answer: Array<T.EntryView> };
  drafts: { arguments: T.Nothing; answer: T.Drafts };
  keep_draft: { arguments: T.KeepDraft; answer: Array<T.Changed> };
  level_book: { arguments: T.LevelBookTyped; answer: T.LevelBookLook };
  arc: { arguments: T.ArcTyped; answer: T.ArcLook };
  passes: { arguments: T.PassesAsked; answer: T.PassesView };
  drop_test: { arguments: T.DropTestAsked; answer: T.DropTestView };
  vibration: { arguments: T.VibrationAsked; answer: T.VibrationView };
  mix: { arguments: T.MixAsked; answer: T.MixView };
  swell: { arguments: T.SwellAsked; answer: T.SwellView };
  fall: { arguments: T.FallAsked; answer: T.FallView };
  choices: { arguments: T.Nothing; answer: T.ChoicesView };
  plan_takes: { arguments: T.PlanText; answer: T.TakesView };
  job_takes: { arguments: T.OfJob; answer: T.TakesView };
  order_list: { arguments: T.OfJob; answer: T.OrderListView };
  order_of_plan: { arguments: T.PlanText; answer: T.OrderListView };
  own_kit: { arguments: T.Nothing; answer: T.OwnKitView };
  keep_own_kit: { arguments: T.OwnKitView; answer: Array<T.Changed> };
  own_rates: { arguments: T.Nothing; answer: Array<T.OwnRateView> };
  change_price: { arguments: T.PriceTyped; answer: T.PriceLook };
  day: { arguments: T.DayAsked; answer: T.DayView };
  layer_thickness: { arguments: T.OfLayer; answer: T.ThicknessDrawn | null };
  vibration_days: { arguments: T.VibrationDaysAsked; answer: Array<T.PersonDayView> };
}
