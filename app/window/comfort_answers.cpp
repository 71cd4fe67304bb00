#include "app/window/comfort_answers.h"

#include <QCoreApplication>

namespace nearpoint {
namespace {

struct Words {
  Q_DECLARE_TR_FUNCTIONS(ComfortAnswers)
};

}  // namespace

QString ComfortQuestion() {
  return Words::tr("Look far away for a moment. How do your eyes feel now?");
}

Answers* NewComfortAnswers() {
  return new Answers(ComfortQuestion(), {{"fine", Words::tr("Fine")},
                                         {"tired", Words::tr("A little tired or blurred")},
                                         {"discomfort", Words::tr("They hurt, or I feel sick or "
                                                                  "dizzy")},
                                         {"double", Words::tr("I still see two")}});
}

}  // namespace nearpoint
