#include "propwright/answer/form_document.h"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "form_scene.h"
#include "propwright/answer/document.h"

namespace propwright::answer {
namespace {

Json points_json(const std::vector<std::pair<double, double>>& points) {
  Json list = Json::array();
  for (const auto& [x, y] : points) list.push_back({drawn_m(x), drawn_m(y)});
  return list;
}

std::string line_word(form::TemplateLine::Kind kind) {
  switch (kind) {
    case form::TemplateLine::Kind::cut:
      return "cut";
    case form::TemplateLine::Kind::score:
      return "score";
    case form::TemplateLine::Kind::centre:
      return "centre";
    case form::TemplateLine::Kind::station:
      return "station";
  }
  return {};
}

Json drawing_json(const std::string& group, const form::Template& drawing) {
  Json lines = Json::array(), texts = Json::array();
  for (const form::TemplateLine& line : drawing.lines) {
    lines.push_back({{"kind", line_word(line.kind)},
                     {"closed", line.closed},
                     {"dashed", line.dashed},
                     {"label", line.label},
                     {"value_m", line.value_m},
                     {"points_m", points_json(line.points_m)}});
  }
  for (const form::TemplateText& text : drawing.texts) {
    texts.push_back({{"x_m", drawn_m(text.x_m)},
                     {"y_m", drawn_m(text.y_m)},
                     {"text", text.text},
                     {"angle_deg", text.angle_deg},
                     {"value_m", text.value_m}});
  }
  return {{"name", drawing.name},
          {"title", drawing.title},
          {"group", group},
          {"lines", lines},
          {"texts", texts}};
}

Json map_json(const form::FlatPattern& pattern) {
  const auto place = [](const form::FlatPoint& p) {
    return Json{drawn_m(p.along_m), drawn_m(p.across_m)};
  };
  Json points = Json::array(), triangles = Json::array(), strain = Json::array();
  for (const form::FlatPoint& p : pattern.flat) points.push_back(place(p));
  for (const auto& [a, b, c] : pattern.triangles) triangles.push_back({a, b, c});
  for (const form::Stretch& s : pattern.stretch) {
    const double stretched = s.largest - 1, squeezed = 1 - s.smallest;
    strain.push_back(drawn_m(stretched >= squeezed ? stretched : -squeezed));
  }
  Json outline = Json::array(), plain = Json::array();
  for (const auto& s : pattern.stations) {
    outline.push_back(place(s.lead));
    plain.push_back(place(s.arc_lead));
  }
  for (auto s = pattern.stations.rbegin(); s != pattern.stations.rend(); ++s) {
    outline.push_back(place(s->trail));
    plain.push_back(place(s->arc_trail));
  }
  return {{"outline_m", outline},
          {"plain_outline_m", plain},
          {"points_m", points},
          {"triangles", triangles},
          {"strain", strain}};
}

/// What to buy or to cut for the kind.
Json sizes_json(FormKind kind, const FormAnswer& answer) {
  Json sizes = Json::array();
  const auto add = [&](const char* label, double value_m) {
    sizes.push_back({{"label", label}, {"value_m", drawn_m(value_m)}});
  };
  if (kind == FormKind::block && answer.block) {
    add("Block, length", answer.block->length_m);
    add("Block, width", answer.block->width_m);
    add("Block, height", answer.block->height_m);
  }
  if (kind == FormKind::ribbed && answer.ribbed) {
    double tallest = 0, widest = 0;
    for (const form::RibbedRib& rib : answer.ribbed->ribs) {
      tallest = std::max(tallest, rib.height_m);
      widest = std::max(widest, rib.width_m);
    }
    add("Sheet, thickness", answer.ribbed->sheet_m);
    add("Widest rib", widest);
    add("Tallest rib", tallest);
    add("Spar line over the base", answer.ribbed->spar_height_m);
  }
  if (kind == FormKind::solid && answer.solid) {
    add("Length with border",
        answer.surface.tip_m() - answer.surface.root_m() + 2 * answer.solid->border_m);
    add("Chord error of the mesh", answer.solid->tolerance_m);
  }
  if (kind == FormKind::cylinder && answer.cylinder) {
    add("Cylinder, diameter", 2 * answer.cylinder->cylinder_radius_m);
  }
  return sizes;
}

}  // namespace

base::Expected<Json> form_document(const Json& job, const Json& attachments, const Json& wishes,
                                   const Shelf& shelf) {
  const auto wished = read_form_wishes(wishes, shelf);
  if (!wished) return tl::unexpected(wished.error());
  const auto loaded = load_document(job, attachments);
  if (!loaded) return tl::unexpected(loaded.error());
  const auto answer = form_answer(*loaded, wished->options);
  if (!answer) return tl::unexpected(answer.error());
  Json document = form_facts(*answer);
  document["kind"] = to_text(wished->kind);
  document["sentence"] = form_sentence(*answer);
  document["pattern_map"] = map_json(answer->pattern);
  document["sizes"] = sizes_json(wished->kind, *answer);
  add_form_scene(wished->kind, *answer, document);
  Json drawings = Json::array({drawing_json("blade", answer->outline)});
  for (const FormDrawings& group : answer->drawings) {
    for (const form::Template& drawing : group.group.drawings) {
      drawings.push_back(drawing_json(group.key, drawing));
    }
  }
  document["drawings"] = std::move(drawings);
  return document;
}

}  // namespace propwright::answer
