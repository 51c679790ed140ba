// The solid of a form as files.
#include <cstdint>
#include <stdexcept>

#include "propwright/answer/form_answer.h"
#include "propwright/solid/files.h"

namespace propwright::answer {

namespace {

/// The halves as one, the outer moved away along the spar line.
solid::FormPart apart(const std::vector<solid::FormPart>& parts) {
  constexpr double gap_m = 0.010;
  solid::FormPart all = parts.front();
  for (std::size_t i = 1; i < parts.size(); ++i) {
    const auto first = static_cast<std::uint32_t>(all.mesh.points_m.size());
    for (solid::MeshPoint p : parts[i].mesh.points_m) {
      p[0] += gap_m * static_cast<double>(i);
      all.mesh.points_m.push_back(p);
    }
    for (const auto& [a, b, c] : parts[i].mesh.triangles) {
      all.mesh.triangles.push_back({first + a, first + b, first + c});
    }
  }
  return all;
}

}  // namespace

base::Expected<std::vector<SolidFile>> solid_files(const FormAnswer& answer,
                                                   const SolidFormats& formats,
                                                   const std::function<bool(double)>& progress) {
  if (!answer.solid) throw std::invalid_argument("solid_files: the answer has no solid");
  const auto goes_on = [&](double share) -> base::Expected<void> {
    if (progress(share)) return {};
    return base::fail(base::Problem{.message = "stopped"});
  };
  if (auto on = goes_on(0); !on) return tl::unexpected(on.error());
  std::vector<SolidFile> files;
  if (formats.stl || formats.three_mf) {
    const auto parts = solid::form_solid(answer.surface, *answer.solid);
    if (!parts) return tl::unexpected(parts.error());
    if (auto on = goes_on(0.4); !on) return tl::unexpected(on.error());
    if (formats.stl && formats.one_stl) {
      files.push_back({"form.stl", "stl", solid::stl_bytes(apart(*parts))});
    } else if (formats.stl) {
      for (const solid::FormPart& part : *parts) {
        files.push_back({part.name + ".stl", "stl", solid::stl_bytes(part)});
      }
    }
    if (formats.three_mf) {
      auto bytes = solid::three_mf_bytes(*parts);
      if (!bytes) return tl::unexpected(bytes.error());
      files.push_back({"form.3mf", "3mf", std::move(*bytes)});
    }
  }
  if (auto on = goes_on(0.6); !on) return tl::unexpected(on.error());
  if (formats.step) {
    auto bytes = solid::step_bytes(answer.surface, *answer.solid);
    if (!bytes) return tl::unexpected(bytes.error());
    files.push_back({"form.step", "step", std::move(*bytes)});
  }
  return files;
}

}  // namespace propwright::answer
