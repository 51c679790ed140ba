#include <gtest/gtest.h>

#include <algorithm>
#include <map>

#include "jobs.h"
#include "propwright/brief/fields.h"

namespace propwright::brief {
namespace {

const FieldInfo& field(const std::string& name) {
  const auto& table = field_table();
  const auto found =
      std::find_if(table.begin(), table.end(), [&](const auto& f) { return f.name == name; });
  if (found == table.end()) throw std::runtime_error("no field " + name);
  return *found;
}

TEST(PublicFields, HasEveryFieldOnce) {
  std::map<std::string, int> count;
  for (const FieldInfo& info : field_table()) ++count[info.name];
  EXPECT_GT(count.size(), 90);
  for (const auto& [name, times] : count) EXPECT_EQ(times, 1) << name;
}

TEST(PublicFields, GivesRangeDefaultAndChoices) {
  EXPECT_TRUE(field("propeller.diameter").required);
  EXPECT_EQ(field("propeller.diameter").low, 0.06);
  EXPECT_EQ(std::get<double>(*field("propeller.camber").default_value), 0.06);
  EXPECT_EQ(std::get<std::string>(*field("propeller.hand").default_value), "anticlockwise");
  EXPECT_EQ(field("propeller.form_pitch").default_text, "the set pitch");
  EXPECT_FALSE(field("propeller.form_pitch").default_value);
  EXPECT_EQ(field("propeller.station.radius").dimension, units::Dimension::length);
}

TEST(PublicFields, SaysRangesInBothProfiles) {
  EXPECT_EQ(range_text(field("propeller.diameter"), 0.06, units::Profile::metric), "60 mm");
  EXPECT_EQ(range_text(field("propeller.diameter"), 0.0508, units::Profile::inch), "2 in");
  EXPECT_EQ(range_text(field("propeller.blades"), 4, units::Profile::inch), "4");
}

TEST(PublicFields, NumbersOfAJobAreItsValuesAndDefaults) {
  Job job = support::example("lantern46");
  job.propeller.root_radius_m = 0;
  job.propeller.stations.resize(2);
  job.propeller.stations[1].radius_m = 0.19;
  std::map<std::string, double> numbers;
  for (const auto& [name, value] : numbers_of(job)) numbers[name] = value;
  EXPECT_EQ(numbers.at("propeller.pitch"), 0.78);
  EXPECT_EQ(numbers.at("propeller.blades"), 2);
  EXPECT_EQ(numbers.at("launch.relaxation"), Launch{}.relaxation_per_s);
  EXPECT_EQ(numbers.at("propeller.station[2].radius"), 0.19);
  EXPECT_FALSE(numbers.contains("launch.turns"));                   // not given
  EXPECT_FALSE(numbers.contains("propeller.outline.root_radius"));  // zero is below its range
}

}  // namespace
}  // namespace propwright::brief
