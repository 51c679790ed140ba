// Runs the rotor map a number of times and nothing else, for an instruction count.
#include <cstdio>
#include <cstdlib>

#include "bench_blade.h"

int main(int argc, char** argv) {
  using namespace propwright;
  const int maps = argc > 1 ? std::atoi(argv[1]) : 1;
  const auto rotor = rotor::Rotor::make(bench::blade(), section::Family::thin_arc());
  if (!rotor) return 1;
  const auto conditions = bench::map_conditions(*rotor);
  double thrust = 0;
  for (int i = 0; i < maps; ++i)
    thrust += rotor->solve_all(conditions, bench::flow)->at(20).thrust_N;
  std::printf("%d maps, thrust at the middle point %.6f mN\n", maps, 1000 * thrust / maps);
  return 0;
}
