#include "propwright/desk/run.h"

int main(int argc, char** argv) {
  return propwright::desk::run(argc, argv);
}
