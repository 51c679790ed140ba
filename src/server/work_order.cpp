#include "work_order.h"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

namespace propwright::server {
namespace {

constexpr int least_samples = 50, most_samples = 100000;

/// Reads what is asked for; all that is wrong is told.
class OrderReader {
 public:
  OrderReader(const answer::Json& body, const answer::Shelf& shelf) : body_(body), shelf_(shelf) {}

  base::Expected<WorkOrder> read() {
    order_.kind =
        word("kind", {"spread", "packet", "sensitivities", "form", "bench", "targets"}, true);
    order_.paper = word("paper", {"a4", "letter"}, false) == "letter" ? sheet::Paper::letter
                                                                      : sheet::Paper::a4;
    samples();
    bar();
    form_wishes();
    if (order_.kind == "bench" || order_.kind == "targets") {
      order_.kind == "bench" ? spars() : question();
      print_wishes();
      if (!problems_.empty()) return base::fail(std::move(problems_));
      return std::move(order_);
    }
    answer::Json document = answer::Json::object();
    for (const char* name : {"job", "attachments"}) {
      if (body_.contains(name)) document[name] = body_[name];
    }
    const auto wrong = answer::check_document(document);
    problems_.insert(problems_.end(), wrong.begin(), wrong.end());
    if (!problems_.empty()) return base::fail(std::move(problems_));
    auto loaded = answer::load_document(document["job"], document.contains("attachments")
                                                             ? document["attachments"]
                                                             : answer::Json::object());
    if (!loaded) return base::fail(std::move(loaded.error()));
    order_.loaded = std::move(*loaded);
    return std::move(order_);
  }

 private:
  std::string word(const char* name, const std::vector<std::string>& words, bool needed) {
    const auto found = body_.find(name);
    if (found == body_.end() && !needed) return words.front();
    const std::string text =
        found != body_.end() && found->is_string() ? found->get<std::string>() : "";
    if (std::find(words.begin(), words.end(), text) != words.end()) return text;
    std::string allowed;
    for (const std::string& each : words) allowed += (allowed.empty() ? "" : ", ") + each;
    problems_.push_back({.field = name,
                         .value = found == body_.end() ? "" : found->dump().substr(0, 80),
                         .allowed = allowed,
                         .remedy = "use one of these words",
                         .message = "this word is not known here"});
    return words.front();
  }

  void samples() {
    const auto found = body_.find("samples");
    if (found == body_.end()) return;
    if (found->is_number_integer()) {
      const auto count = found->get<std::int64_t>();
      if (count >= least_samples && count <= most_samples) {
        order_.samples = static_cast<int>(count);
        return;
      }
    }
    problems_.push_back({.field = "samples",
                         .value = found->dump().substr(0, 80),
                         .allowed = fmt::format("{} to {}", least_samples, most_samples),
                         .remedy = "use 1000",
                         .message = "the number of samples is out of range"});
  }

  void form_wishes() {
    if (order_.kind != "form") return;
    order_.file = word("file", {"pdf", "svg", "dxf", "stl", "3mf", "step"}, true);
    order_.dxf_unit = word("dxf_unit", {"mm", "in"}, false) == "in" ? sheet::DxfUnit::inch
                                                                    : sheet::DxfUnit::millimetre;
    const auto wishes = answer::read_form_wishes(
        body_.contains("wishes") ? answer::Json(body_["wishes"]) : answer::Json::object(), shelf_);
    if (wishes) {
      order_.form = *wishes;
    } else {
      problems_.insert(problems_.end(), wishes.error().begin(), wishes.error().end());
    }
  }

  /// What is wrong with one spar leaves the others to be printed, as in /api/bench/spars.
  void spars() {
    const auto found = body_.find("spars");
    if (found == body_.end() || !found->is_object()) {
      problems_.push_back({.field = "spars",
                           .allowed = "the request of /api/bench/spars",
                           .remedy = "send the rig and the spars",
                           .message = "there is no batch to print"});
      return;
    }
    order_.spars = answer::read_spars(answer::Json(*found));
  }

  void question() {
    const auto found = body_.find("bench");
    if (found != body_.end() && found->is_object()) {
      order_.bench = answer::Json(*found);
      return;
    }
    problems_.push_back({.field = "bench",
                         .allowed = "the request of /api/bench",
                         .remedy = "send the blade that survived as `replacement`",
                         .message = "there is no replacement blade to print"});
  }

  void print_wishes() {
    const auto print = answer::read_spar_print_wishes(
        body_.contains("print") ? answer::Json(body_["print"]) : answer::Json::object());
    if (print) {
      order_.print = *print;
    } else {
      problems_.insert(problems_.end(), print.error().begin(), print.error().end());
    }
  }

  void bar() {
    const auto found = body_.find("bar_measured");
    if (found == body_.end()) return;
    const auto read = units::parse(found->is_string() ? found->get<std::string>() : found->dump(),
                                   units::Dimension::length, "bar_measured");
    if (!read) {
      problems_.insert(problems_.end(), read.error().begin(), read.error().end());
    } else if (*read < 0.095 || *read > 0.105) {
      problems_.push_back({.field = "bar_measured",
                           .value = found->dump(),
                           .allowed = "95 mm to 105 mm",
                           .remedy = "measure the bar of 100 mm again",
                           .message = "the value is out of range"});
    } else {
      order_.bar_measured_m = *read;
    }
  }

  const answer::Json& body_;
  const answer::Shelf& shelf_;
  WorkOrder order_;
  base::Problems problems_;
};

}  // namespace

base::Expected<WorkOrder> read_work_order(const answer::Json& body, const answer::Shelf& shelf) {
  return OrderReader(body, shelf).read();
}

}  // namespace propwright::server
