package indwell.docs;

import static org.assertj.core.api.Assertions.assertThat;

import com.sun.source.tree.ClassTree;
import com.sun.source.tree.CompilationUnitTree;
import com.sun.source.tree.MethodTree;
import com.sun.source.tree.Tree;
import com.sun.source.tree.Tree.Kind;
import com.sun.source.util.DocTrees;
import com.sun.source.util.JavacTask;
import com.sun.source.util.TreePath;
import com.sun.source.util.TreePathScanner;
import java.io.IOException;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import javax.lang.model.element.Modifier;
import javax.tools.JavaCompiler;
import javax.tools.JavaFileObject;
import javax.tools.SimpleJavaFileObject;
import javax.tools.ToolProvider;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** What others call in the core says what it is. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class JavadocTest {

  @ParameterizedTest
  @ValueSource(strings = {"domain", "intake", "fhir", "port", "usecase", "access"})
  void every_public_type_and_method_has_a_sentence(String layer) throws IOException {
    List<JavaFileObject> sources = new ArrayList<>();
    try (Stream<Path> files = Files.walk(Path.of("src/main/java/indwell", layer))) {
      for (Path file : files.filter(path -> path.toString().endsWith(".java")).toList()) {
        sources.add(new Source(file.toString(), Files.readString(file)));
      }
    }

    assertThat(sources).hasSizeGreaterThan(5);
    assertThat(undocumented(sources)).isEmpty();
  }

  @Test
  void what_has_none_is_found() throws IOException {
    String source =
        """
        public class Bare {
          public Bare() {}
          public int open() { return 1; }
          int ownAffair() { return 1; }
          /** Said. */
          public interface Said { void unsaid(); private void hidden() {} }
          @Override public String toString() { return ""; }
          /** Said. */
          public record Value(int one) { public int one() { return one; } public int two() { return 2; } }
          private static final class Hidden { public void unseen() {} }
        }
        """;

    assertThat(undocumented(List.of(new Source("Bare.java", source))))
        .containsExactlyInAnyOrder("Bare", "Bare.open", "Said.unsaid", "Value.two");
  }

  private static List<String> undocumented(List<JavaFileObject> sources) throws IOException {
    JavaCompiler compiler = ToolProvider.getSystemJavaCompiler();
    JavacTask task = (JavacTask) compiler.getTask(null, null, null, null, null, sources);
    Undocumented found = new Undocumented(DocTrees.instance(task));
    for (CompilationUnitTree unit : task.parse()) {
      found.scan(unit, null);
    }
    return found.names;
  }

  /** Sources are parsed only, so that nothing they use is needed. */
  private static final class Source extends SimpleJavaFileObject {
    private final String text;

    Source(String path, String text) {
      super(URI.create("string:///" + path), Kind.SOURCE);
      this.text = text;
    }

    @Override
    public CharSequence getCharContent(boolean ignoreEncodingErrors) {
      return text;
    }
  }

  /** Walks what is public, from the outside in. */
  private static final class Undocumented extends TreePathScanner<Void, Void> {
    private final DocTrees docs;
    private final List<String> names = new ArrayList<>();

    Undocumented(DocTrees docs) {
      this.docs = docs;
    }

    @Override
    public Void visitClass(ClassTree type, Void none) {
      boolean ofInterface = getCurrentPath().getParentPath().getLeaf().getKind() == Kind.INTERFACE;
      boolean open = ofInterface || type.getModifiers().getFlags().contains(Modifier.PUBLIC);
      if (!open) {
        return none;
      }
      note(type.getSimpleName().toString());
      return super.visitClass(type, none);
    }

    @Override
    public Void visitMethod(MethodTree method, Void none) {
      ClassTree type = (ClassTree) getCurrentPath().getParentPath().getLeaf();
      boolean open =
          type.getKind() == Kind.INTERFACE
              ? !method.getModifiers().getFlags().contains(Modifier.PRIVATE)
              : method.getModifiers().getFlags().contains(Modifier.PUBLIC);
      if (open && !isConstructor(method) && !overrides(method) && !isComponent(type, method)) {
        note(type.getSimpleName() + "." + method.getName());
      }
      return none;
    }

    private static boolean isConstructor(MethodTree method) {
      return method.getReturnType() == null;
    }

    private static boolean overrides(MethodTree method) {
      return method.getModifiers().getAnnotations().stream()
          .anyMatch(one -> one.getAnnotationType().toString().equals("Override"));
    }

    /** The record's own comment says what its components are. */
    private static boolean isComponent(ClassTree type, MethodTree method) {
      return type.getKind() == Kind.RECORD
          && method.getParameters().isEmpty()
          && type.getMembers().stream()
              .filter(member -> member.getKind() == Kind.VARIABLE)
              .map(Tree::toString)
              .anyMatch(field -> field.matches("(?s).*\\b" + method.getName() + "\\b.*"));
    }

    private void note(String name) {
      TreePath here = getCurrentPath();
      String said = docs.getDocComment(here);
      if (said == null || said.isBlank()) {
        names.add(name);
      }
    }
  }
}
