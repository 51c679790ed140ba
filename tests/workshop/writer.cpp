// Makes designs in a workshop and prints the id of each when it is written: FILE COUNT
#include <cstdio>
#include <cstdlib>

#include "propwright/workshop/workshop.h"

int main(int argc, char** argv) {
  if (argc != 3) return 2;
  auto workshop = propwright::workshop::Workshop::open(argv[1]);
  if (!workshop) return 5;
  std::setvbuf(stdout, nullptr, _IOLBF, 0);
  for (int i = 0; i < std::atoi(argv[2]); ++i) {
    const std::string name = "Design " + std::to_string(i);
    const auto made = workshop->create_design(
        {name, R"({"job":{"job":{"name":")" + name + R"("}}})", "", {600.0 + i}});
    if (!made) return 5;
    const auto saved = workshop->add_version(
        made->row.id, 1, {name, R"({"job":{"job":{"version":2}}})", "", {700.0 + i}});
    if (!saved) return 5;
    std::printf("%s\n", made->row.id.c_str());
  }
}
